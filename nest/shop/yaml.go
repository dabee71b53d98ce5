package shop

import (
	"errors"
	"fmt"
	"strings"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"
)

// Bounds on what one YAML file may unfold to: nested too deep or aliases of
// aliases would otherwise eat the machine.
const (
	maxDepth  = 64
	maxValues = 1 << 20
)

// parseYAML turns a file into values. Problems go to log; the value is nil
// where the file holds none.
func parseYAML(log *log, file string, data []byte) *value {
	text, err := plainText(data)
	if err != nil {
		log.fault(spot{file: file}, "", err.Error(), "save the file as UTF-8 text")
		return nil
	}
	tree, err := parseTree(text)
	if err != nil {
		log.add(syntaxProblem(file, err))
		return nil
	}
	u := &unfolder{log: log, file: file, anchors: map[string]ast.Node{}}
	return u.documents(tree)
}

// parseTree keeps a defect of the parser from ending the program.
func parseTree(text string) (tree *ast.File, err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("the YAML reader gave up: %v", r)
		}
	}()
	return parser.ParseBytes([]byte(text), 0, parser.AllowDuplicateMapKey())
}

func syntaxProblem(file string, err error) Problem {
	p := Problem{
		File: file, Fact: "not readable as YAML: " + err.Error(),
		Mend: "look at this line and the one before it",
	}
	var at yaml.Error
	if errors.As(err, &at) {
		p.Fact = "not readable as YAML: " + at.GetMessage()
		if tok := at.GetToken(); tok != nil && tok.Position != nil {
			p.Line, p.Column = tok.Position.Line, tok.Position.Column
		}
	}
	if strings.Contains(p.Fact, "'\\t'") || strings.Contains(p.Fact, "'\t'") {
		p.Fact, p.Mend = "a tab begins this line", "indent with spaces, YAML allows no tabs"
	}
	return p
}

// An unfolder turns the parser's tree into values: aliases followed, merge keys
// merged, duplicate keys refused.
type unfolder struct {
	log     *log
	file    string
	anchors map[string]ast.Node
	open    []string // aliases being followed
	made    int
}

func (u *unfolder) documents(tree *ast.File) *value {
	var first *value
	for _, doc := range tree.Docs {
		if doc.Body == nil {
			continue
		}
		if _, comment := doc.Body.(*ast.CommentGroupNode); comment {
			continue
		}
		if first != nil {
			u.log.fault(u.spot(doc.Body), "", "a second document begins here",
				"keep one document in the file: remove the line of dashes")
			return first
		}
		first = u.value(doc.Body, 0)
	}
	return first
}

func (u *unfolder) value(n ast.Node, depth int) *value {
	u.made++
	if depth > maxDepth || u.made > maxValues {
		if u.made <= maxValues {
			u.log.fault(u.spot(n), "", fmt.Sprintf("nested more than %d deep", maxDepth), "write it flatter")
		} else if u.made == maxValues+1 {
			u.log.fault(u.spot(n), "", fmt.Sprintf("more than %d values", maxValues), "split the job, or use fewer aliases")
		}
		return &value{at: u.spot(n), broken: true}
	}
	switch n := n.(type) {
	case *ast.MappingNode:
		return u.record(n, n.Values, depth)
	case *ast.MappingValueNode:
		return u.record(n, []*ast.MappingValueNode{n}, depth)
	case *ast.SequenceNode:
		return u.list(n, depth)
	case *ast.AnchorNode:
		u.anchors[tokenText(n.Name)] = n.Value
		return u.value(n.Value, depth+1)
	case *ast.AliasNode:
		return u.alias(n, depth)
	case *ast.TagNode:
		return u.value(n.Value, depth+1)
	case *ast.LiteralNode:
		return &value{kind: scalar, at: u.spot(n), text: strings.TrimRight(n.Value.Value, "\n"), quoted: true}
	case nil, *ast.NullNode, *ast.CommentGroupNode:
		return &value{at: u.spot(n)}
	}
	return u.scalar(n)
}

func (u *unfolder) scalar(n ast.Node) *value {
	v := &value{kind: scalar, at: u.spot(n), text: tokenText(n)}
	if s, ok := n.(*ast.StringNode); ok {
		v.text = s.Value
		v.quoted = s.Token.Type == token.SingleQuoteType || s.Token.Type == token.DoubleQuoteType
	}
	v.text = strings.TrimSpace(v.text)
	return v
}

func (u *unfolder) list(n *ast.SequenceNode, depth int) *value {
	v := &value{kind: list, at: u.spot(n)}
	for _, item := range n.Values {
		v.items = append(v.items, u.value(item, depth+1))
	}
	return v
}

// record reads keys. A merge key's fields come last, so that the record's own
// keys win, as the YAML merge type asks.
func (u *unfolder) record(n ast.Node, entries []*ast.MappingValueNode, depth int) *value {
	v := &value{kind: record, at: u.spot(n)}
	var merged []field
	for _, e := range entries {
		if _, ok := e.Key.(*ast.MergeKeyNode); ok {
			merged = append(merged, u.merge(e.Value, depth)...)
			continue
		}
		u.entry(v, e, depth)
	}
	for _, f := range merged {
		if v.find(f.key) == nil {
			v.fields = append(v.fields, f)
		}
	}
	return v
}

func (u *unfolder) entry(v *value, e *ast.MappingValueNode, depth int) {
	f := field{key: keyText(e.Key), at: u.spot(e.Key), val: u.value(e.Value, depth+1)}
	if old := v.find(f.key); old != nil {
		u.log.fault(f.at, "", fmt.Sprintf("%s is written twice, first at line %d", f.key, old.at.line), "keep one")
		return
	}
	if f.val.kind == empty {
		f.val.at = f.at
	}
	v.fields = append(v.fields, f)
}

func (u *unfolder) merge(n ast.Node, depth int) []field {
	v := u.value(n, depth+1)
	fields := v.fields
	for _, item := range v.items {
		fields = append(fields, item.fields...)
	}
	if len(fields) == 0 {
		u.log.fault(v.at, "", "<< merges nothing", "give it an alias of keys with values, such as << : *base")
	}
	return fields
}

func (u *unfolder) alias(n *ast.AliasNode, depth int) *value {
	name := tokenText(n.Value)
	for _, o := range u.open {
		if o == name {
			u.log.fault(u.spot(n), "", fmt.Sprintf("*%s contains itself", name), "break the circle")
			return &value{at: u.spot(n), broken: true}
		}
	}
	target, ok := u.anchors[name]
	if !ok {
		u.log.fault(u.spot(n), "", fmt.Sprintf("*%s is not defined above", name),
			fmt.Sprintf("put &%s before the value it stands for", name))
		return &value{at: u.spot(n), broken: true}
	}
	u.open = append(u.open, name)
	v := u.value(target, depth+1)
	u.open = u.open[:len(u.open)-1]
	return v
}

func (u *unfolder) spot(n ast.Node) spot {
	s := spot{file: u.file}
	switch m := n.(type) {
	case nil:
		return s
	case *ast.MappingValueNode: // its own token is the colon
		return u.spot(m.Key)
	case *ast.MappingNode:
		if len(m.Values) > 0 {
			return u.spot(m.Values[0].Key)
		}
	}
	if tok := n.GetToken(); tok != nil && tok.Position != nil {
		s.line, s.column = tok.Position.Line, tok.Position.Column
	}
	return s
}

func keyText(k ast.MapKeyNode) string {
	if s, ok := k.(*ast.StringNode); ok {
		return strings.TrimSpace(s.Value)
	}
	return strings.TrimSpace(tokenText(k))
}

func tokenText(n ast.Node) string {
	if n == nil || n.GetToken() == nil {
		return ""
	}
	return n.GetToken().Value
}
