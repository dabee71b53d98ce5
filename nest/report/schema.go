package report

import _ "embed" // for the schema, which is part of the program

//go:embed plan.schema.json
var planSchema []byte

// PlanSchema is the JSON Schema (2020-12) of plan.json.
func PlanSchema() []byte { return planSchema }
