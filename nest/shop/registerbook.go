package shop

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"path"
	"reflect"
	"strings"
)

// A StockChange is what a plan takes from the rack and puts onto it.
type StockChange struct {
	Taken map[string]int // sheets by stock id; ids a register does not hold are passed over
	Added []Stock        // remnants
}

// RegisterSum is a register's fingerprint: SHA-256 in hexadecimal. It tells
// whether a register is still the one a plan was made from.
func RegisterSum(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// ErrNotBookable is of registers that can be read and not rewritten.
var ErrNotBookable = errors.New("a workbook cannot be rewritten as a register: save the sheet as CSV and name that")

// Bookable reports whether a register of this name can be rewritten.
func Bookable(name string) error {
	switch strings.ToLower(path.Ext(name)) {
	case ".xlsx", ".xlsm":
		return ErrNotBookable
	}
	return nil
}

// BookRegister is the register with a change made to it. Only the counts that
// change and the new lines are touched: comments, columns the program does not
// know, blank lines, line ends and a byte order mark stay. A line used up stays
// with a count of 0, so that its id is not given again. What is returned has
// been read back and holds exactly what is expected; where the YAML form at hand
// cannot be edited so, it is written anew and a note says what that costs.
func BookRegister(name string, data []byte, change StockChange) (out []byte, notes []string, err error) {
	if err := Bookable(name); err != nil {
		return nil, nil, err
	}
	before, _, err := readAsWritten(name, data)
	if err != nil {
		return nil, nil, err
	}
	after, err := changed(before, change)
	if err != nil {
		return nil, nil, err
	}
	out, edited := editRegister(name, data, before, after)
	if edited && readsAs(name, out, after) {
		return out, textNotes(data), nil
	}
	if isTable(name) {
		return nil, nil, fmt.Errorf("the table %s cannot be rewritten safely: copy the new lines from the plan's stock-after.yaml by hand", name)
	}
	out = MarshalRegister(after)
	if !readsAs(name, out, after) {
		return nil, nil, fmt.Errorf("the register %s cannot be rewritten: this is a fault of the program, please report it", name)
	}
	return out, []string{"the register was written anew: its comments are only in the copy that is kept"}, nil
}

// changed is the stock after a change: counts less what is taken, then what is
// added.
func changed(before []Stock, change StockChange) ([]Stock, error) {
	var out []Stock
	ids := map[string]bool{}
	for _, s := range before {
		s.Count -= change.Taken[s.ID]
		if s.Count < 0 {
			return nil, fmt.Errorf("stock %s: %d taken, and the register holds %d: plan again with this register",
				s.ID, change.Taken[s.ID], s.Count+change.Taken[s.ID])
		}
		ids[s.ID] = true
		out = append(out, s)
	}
	for _, s := range change.Added {
		if ids[s.ID] {
			return nil, fmt.Errorf("stock %s: the register holds this id already: plan again with this register", s.ID)
		}
		ids[s.ID] = true
		out = append(out, s)
	}
	return out, nil
}

// editRegister makes the edits; false is that it cannot.
func editRegister(name string, data []byte, before, after []Stock) ([]byte, bool) {
	text, err := plainText(data)
	if err != nil {
		return nil, false
	}
	if isTable(name) {
		text, err = editTable(name, text, before, after)
	} else {
		text, err = editYAML(name, text, before, after)
	}
	return sameForm(data, text), err == nil
}

// readsAs reports whether the register text reads as the stock expected.
func readsAs(name string, data []byte, want []Stock) bool {
	got, _, err := readAsWritten(name, data)
	if err != nil || len(got) != len(want) {
		return false
	}
	for i := range got {
		a, b := got[i], want[i]
		a.Where, b.Where = "", ""
		if len(a.Blocked)+len(b.Blocked) == 0 {
			a.Blocked, b.Blocked = nil, nil
		}
		if !reflect.DeepEqual(a, b) {
			return false
		}
	}
	return true
}

// readAsWritten reads a register whatever its materials are called.
func readAsWritten(name string, data []byte) ([]Stock, []string, error) {
	l := newLoader(nil, name)
	l.asWritten = true
	return l.readRegister(data)
}

var byteOrderMark = []byte{0xEF, 0xBB, 0xBF}

// sameForm gives a text the line ends and the byte order mark of the data it
// came from. What was not UTF-8 becomes UTF-8 with a mark, which spreadsheets
// understand.
func sameForm(data []byte, text string) []byte {
	if bytes.Contains(data, []byte("\r\n")) || isUTF16(data) && strings.Contains(mustText(data), "\r\n") {
		text = strings.ReplaceAll(text, "\n", "\r\n")
	}
	if bytes.HasPrefix(data, byteOrderMark) || !isPlainUTF8(data) {
		return append(bytes.Clone(byteOrderMark), text...)
	}
	return []byte(text)
}

func mustText(data []byte) string {
	text, _ := decodeText(data)
	return text
}

func textNotes(data []byte) []string {
	if isPlainUTF8(data) {
		return nil
	}
	return []string{"the register's text is now UTF-8"}
}
