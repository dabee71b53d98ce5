package report

import (
	"bytes"
	"encoding/json"
	"fmt"
	"reflect"
	"slices"

	"kerfold/nest/week"
)

// mostDerived bounds how many wrong figures are listed.
const mostDerived = 20

// Derived compares a plan file with the plan read from it: figures that follow
// from others, such as totals, yields and counts, are worked out anew, and one
// sentence is returned for each that the file has otherwise.
func Derived(file []byte, p *week.Plan) ([]string, error) {
	var again bytes.Buffer
	if err := WritePlan(&again, p); err != nil {
		return nil, err
	}
	var said, found any
	if err := json.Unmarshal(file, &said); err != nil {
		return nil, err
	}
	if err := json.Unmarshal(again.Bytes(), &found); err != nil {
		return nil, err
	}
	var faults []string
	walkDerived("plan", said, found, &faults)
	return faults, nil
}

// walkDerived lists where two decoded JSON values differ, in the order of keys.
func walkDerived(at string, said, found any, faults *[]string) {
	if len(*faults) >= mostDerived {
		return
	}
	switch f := found.(type) {
	case map[string]any:
		if s, ok := said.(map[string]any); ok {
			walkKeys(at, s, f, faults)
			return
		}
	case []any:
		if s, ok := said.([]any); ok && len(s) == len(f) {
			for i := range f {
				walkDerived(fmt.Sprintf("%s[%d]", at, i), s[i], f[i], faults)
			}
			return
		}
	}
	if !reflect.DeepEqual(said, found) {
		*faults = append(*faults, fmt.Sprintf("%s: it says %s, the rest of the plan makes it %s", at, short(said), short(found)))
	}
}

func walkKeys(at string, said, found map[string]any, faults *[]string) {
	keys := map[string]bool{}
	for k := range said {
		keys[k] = true
	}
	for k := range found {
		keys[k] = true
	}
	names := make([]string, 0, len(keys))
	for k := range keys {
		names = append(names, k)
	}
	slices.Sort(names)
	for _, k := range names {
		walkDerived(at+"."+k, said[k], found[k], faults)
	}
}

// short shows a value in a message.
func short(v any) string {
	switch v.(type) {
	case nil:
		return "nothing"
	case map[string]any, []any:
		return "something else"
	}
	b, err := json.Marshal(v)
	if err != nil {
		return fmt.Sprint(v)
	}
	return string(b)
}
