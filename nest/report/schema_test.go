package report

import (
	"bytes"
	"encoding/json"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

func compiledSchema(t *testing.T) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(PlanSchema()))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("plan.schema.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("plan.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestPlanFollowsSchema(t *testing.T) {
	s := compiledSchema(t)
	var b bytes.Buffer
	if err := WritePlan(&b, samplePlan()); err != nil {
		t.Fatal(err)
	}
	if err := validate(t, s, b.String()); err != nil {
		t.Errorf("the plan breaks its schema: %v", err)
	}
	for _, c := range []struct{ why, old, new string }{
		{"unknown key", `"currency"`, `"curency"`},
		{"wrong type", `"seed": 7`, `"seed": "7"`},
		{"other version", `"kerfold_plan": 1`, `"kerfold_plan": 2`},
		{"unknown grade", `"medium"`, `"shiny"`},
		{"no repeats", `"repeats": 4`, `"repeats": 0`},
		{"no date", `"2031-03-05"`, `"5 March"`},
	} {
		bad := strings.Replace(b.String(), c.old, c.new, 1)
		if validate(t, s, bad) == nil {
			t.Errorf("%s: the schema lets %s pass", c.why, c.new)
		}
	}
}

func validate(t *testing.T, s *jsonschema.Schema, text string) error {
	t.Helper()
	v, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return s.Validate(v)
}

// The schema and the Go form name the same keys, and agree on which may be
// absent.
func TestSchemaNamesEveryKey(t *testing.T) {
	type object struct {
		Properties map[string]json.RawMessage
		Required   []string
	}
	var root struct {
		object
		Defs map[string]object `json:"$defs"`
	}
	if err := json.Unmarshal(PlanSchema(), &root); err != nil {
		t.Fatal(err)
	}
	for name, form := range map[string]any{
		"": PlanFile{}, "group": GroupFile{}, "part": PartFile{}, "sheet": SheetFile{}, "layout": LayoutFile{},
		"placement": PlacementFile{}, "cut": CutFile{}, "sever": SeverFile{}, "run": RunFile{}, "ledger": LedgerFile{}, "money": MoneyFile{},
		"usage": UsageFile{}, "count": CountFile{}, "range": RangeFile{}, "way": WayFile{}, "search": SearchFile{},
		"remnant_rule": RuleFile{}, "machine": MachineFile{}, "slot": SlotFile{}, "order": OrderFile{},
	} {
		def := root.object
		if name != "" {
			def = root.Defs[name]
		}
		form := reflect.TypeOf(form)
		for i := range form.NumField() {
			key, opts, _ := strings.Cut(form.Field(i).Tag.Get("json"), ",")
			if _, ok := def.Properties[key]; !ok {
				t.Errorf("%s: %q is not in the schema", form.Name(), key)
			}
			if may := strings.HasPrefix(opts, "omit"); may == slices.Contains(def.Required, key) {
				t.Errorf("%s: %q may be absent: %v, but the schema says otherwise", form.Name(), key, may)
			}
		}
		if len(def.Properties) != form.NumField() {
			t.Errorf("%s: schema has %d keys, the form %d", form.Name(), len(def.Properties), form.NumField())
		}
	}
}
