package shop

import (
	"fmt"
	"strings"
)

// parseCSV reads comma- or semicolon-separated text: fields in quotes may hold
// separators, line ends and doubled quotes (RFC 4180). A quote inside an
// unquoted field stands for itself, as in 1/8". The separator is written back
// to spec.
func parseCSV(log *log, spec *tableSpec, text string) []row {
	r := csvReader{log: log, file: spec.name, text: []rune(text), line: 1, column: 1}
	r.separatorLine(spec)
	if spec.comma == 0 {
		spec.comma = likelySeparator(string(r.text[r.pos:]), spec.heading-r.line)
	}
	r.comma = spec.comma
	var rows []row
	for !r.end() && len(rows) < maxRows {
		rows = append(rows, r.row())
	}
	if !r.end() {
		log.fault(r.spot(), "", fmt.Sprintf("more than %d rows", maxRows), "split the table")
	}
	return rows
}

// A csvReader walks over the text, keeping the place.
type csvReader struct {
	log          *log
	file         string
	text         []rune
	comma        rune
	pos          int
	line, column int
}

func (r *csvReader) end() bool  { return r.pos >= len(r.text) }
func (r *csvReader) peek() rune { return r.text[r.pos] }
func (r *csvReader) spot() spot { return spot{r.file, r.line, r.column} }

func (r *csvReader) next() rune {
	c := r.text[r.pos]
	r.pos++
	r.column++
	if c == '\n' {
		r.line++
		r.column = 1
	}
	return c
}

// separatorLine takes the line "sep=;" that some spreadsheets write first.
func (r *csvReader) separatorLine(spec *tableSpec) {
	rest := r.text[r.pos:]
	if len(rest) < 5 || strings.ToLower(string(rest[:4])) != "sep=" || len(rest) > 5 && rest[5] != '\n' {
		return
	}
	if spec.comma == 0 {
		spec.comma = rest[4]
	}
	for !r.end() && r.next() != '\n' {
	}
}

// row reads one line of fields; a line end inside quotes does not end it.
func (r *csvReader) row() row {
	var out row
	for {
		out = append(out, r.field())
		if r.end() {
			return out
		}
		if r.next() == '\n' {
			return out
		}
		if r.end() { // a separator ends the text: one more empty field
			return append(out, cell{at: r.spot()})
		}
	}
}

func (r *csvReader) field() cell {
	at := r.spot()
	if !r.end() && r.peek() == '"' {
		return cell{r.quoted(at), at}
	}
	return cell{r.plain(), at}
}

func (r *csvReader) plain() string {
	from := r.pos
	for !r.end() && r.peek() != r.comma && r.peek() != '\n' {
		r.next()
	}
	return string(r.text[from:r.pos])
}

// quoted reads a field in quotes. What follows the closing quote before the
// next separator is kept and reported.
func (r *csvReader) quoted(at spot) string {
	var b strings.Builder
	r.next()
	for !r.end() {
		c := r.next()
		if c != '"' {
			b.WriteRune(c)
			continue
		}
		if r.end() || r.peek() != '"' {
			return b.String() + r.afterQuote(at)
		}
		r.next()
		b.WriteRune('"')
	}
	r.log.fault(at, "", "a quote opens here and never closes", "close it, or double quotes that belong to the text")
	return b.String()
}

func (r *csvReader) afterQuote(at spot) string {
	rest := r.plain()
	if strings.TrimSpace(rest) != "" {
		r.log.fault(at, "", fmt.Sprintf("%s follows a closing quote", quoteText(rest)), "double quotes that belong to the text")
	}
	return rest
}

// likelySeparator is the sign that stands most often in the heading line outside
// quotes; skip lines come before it.
func likelySeparator(text string, skip int) rune {
	for ; skip > 0; skip-- {
		_, after, found := strings.Cut(text, "\n")
		if !found {
			break
		}
		text = after
	}
	counts := map[rune]int{}
	inQuotes := false
	for _, c := range strings.TrimLeft(text, "\n ") {
		switch {
		case c == '"':
			inQuotes = !inQuotes
		case inQuotes:
		case c == '\n' && counts[',']+counts[';']+counts['\t'] > 0: // a title above has none
			return most(counts)
		default:
			counts[c]++
		}
	}
	return most(counts)
}

func most(counts map[rune]int) rune {
	best := ','
	for _, c := range []rune{';', '\t'} {
		if counts[c] > counts[best] {
			best = c
		}
	}
	return best
}
