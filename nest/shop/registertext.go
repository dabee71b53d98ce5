package shop

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// An edit replaces, in the line and before the rune of that column (from 1), as
// many runes as cut says.
type edit struct {
	line, column, cut int
	put               string
}

var errNoEdit = errors.New("this form cannot be edited")

// editYAML writes changed counts and appends new lines, comments kept.
func editYAML(name, text string, before, after []Stock) (string, error) {
	v := parseYAML(newLog(), name, []byte(text))
	if v == nil || v.kind == empty {
		return yamlFromNothing(text, after), nil
	}
	stock := v.find("stock")
	if v.kind != record || stock == nil || stock.val.kind != list || len(stock.val.items) != len(before) {
		return "", errNoEdit
	}
	lines := strings.Split(text, "\n")
	var edits []edit
	for i, item := range stock.val.items {
		if after[i].Count == before[i].Count {
			continue
		}
		e, err := countEdit(lines, item, after[i].Count)
		if err != nil {
			return "", err
		}
		edits = append(edits, e)
	}
	more, err := appendEdit(lines, stock.val, after[len(before):])
	if err != nil {
		return "", err
	}
	return applyEdits(lines, append(more, edits...))
}

// yamlFromNothing begins the list of a register that holds none yet.
func yamlFromNothing(text string, stock []Stock) string {
	if text = strings.TrimRight(text, "\n"); text != "" {
		text += "\n"
	}
	body := string(MarshalRegister(stock))
	return text + body[strings.Index(body, "version:"):]
}

// countEdit writes a line's count: over the old one, or where none is written,
// below or beside the id.
func countEdit(lines []string, item *value, count int) (edit, error) {
	text := strconv.Itoa(count)
	if f := item.find("count"); f != nil {
		at := f.val.at
		if !runesAt(lines, at, f.val.text) {
			return edit{}, errNoEdit
		}
		return edit{at.line, at.column, len([]rune(f.val.text)), text}, nil
	}
	id := item.find("id")
	if id == nil || !runesAt(lines, id.at, "id") {
		return edit{}, errNoEdit
	}
	if inBraces(lines, id.at) {
		return edit{id.at.line, id.at.column, 0, "count: " + text + ", "}, nil
	}
	end := len([]rune(lines[id.at.line-1])) + 1
	return edit{id.at.line, end, 0, "\n" + strings.Repeat(" ", id.at.column-1) + "count: " + text}, nil
}

// inBraces reports whether a key stands in a record in braces: it follows an
// opening brace or a comma.
func inBraces(lines []string, key spot) bool {
	line := []rune(lines[key.line-1])
	before := strings.TrimRight(string(line[:key.column-1]), " ")
	return strings.HasSuffix(before, "{") || strings.HasSuffix(before, ",")
}

// runesAt reports whether a text stands at a place.
func runesAt(lines []string, at spot, text string) bool {
	if at.line < 1 || at.line > len(lines) || at.column < 1 {
		return false
	}
	line := []rune(lines[at.line-1])
	return at.column <= len(line) && strings.HasPrefix(string(line[at.column-1:]), text)
}

// appendEdit puts new lines at the end of the list.
func appendEdit(lines []string, stock *value, added []Stock) ([]edit, error) {
	switch {
	case len(added) == 0:
		return nil, nil
	case len(stock.items) == 0:
		if !runesAt(lines, stock.at, "[]") {
			return nil, errNoEdit
		}
		return []edit{{stock.at.line, stock.at.column, 2, "\n" + stockYAML(added, 3)}}, nil
	case !runesAt(lines, stock.at, "-"):
		return nil, errNoEdit
	}
	last := lastLine(lines, stock.at.column, stock.items[len(stock.items)-1].at.line)
	return []edit{{last, len([]rune(lines[last-1])) + 1, 0, "\n" + stockYAML(added, stock.at.column)}}, nil
}

// stockYAML writes lines of stock with their dashes in the column given.
func stockYAML(stock []Stock, column int) string {
	var b strings.Builder
	for i := range stock {
		writeStock(&b, &stock[i])
	}
	lines := strings.Split(strings.TrimRight(b.String(), "\n"), "\n")
	for i, line := range lines {
		lines[i] = strings.Repeat(" ", column-1) + strings.TrimPrefix(line, "  ")
	}
	return strings.Join(lines, "\n")
}

// lastLine is the last line of a block list whose last item begins in line
// from: lines that are blank or stand further right than the dashes belong to
// it, blank ones at its end do not.
func lastLine(lines []string, column, from int) int {
	last := from
	for n := from + 1; n <= len(lines); n++ {
		line := lines[n-1]
		rest := strings.TrimLeft(line, " ")
		if rest == "" {
			continue
		}
		if len(line)-len(rest) < column {
			break
		}
		last = n
	}
	return last
}

// applyEdits makes edits from the end on, so that no place moves. Of two at one
// place the first given ends up behind.
func applyEdits(lines []string, edits []edit) (string, error) {
	slices.SortStableFunc(edits, func(a, b edit) int {
		return -cmp.Or(cmp.Compare(a.line, b.line), cmp.Compare(a.column, b.column))
	})
	for _, e := range edits {
		line := []rune(lines[e.line-1])
		if e.column-1+e.cut > len(line) {
			return "", fmt.Errorf("line %d: %w", e.line, errNoEdit)
		}
		lines[e.line-1] = string(line[:e.column-1]) + e.put + string(line[e.column-1+e.cut:])
	}
	return strings.Join(lines, "\n"), nil
}
