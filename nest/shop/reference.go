package shop

import _ "embed"

//go:embed reference.txt
var reference string

//go:embed example.yaml
var example string

// Reference describes every key of a job file, for people.
func Reference() string { return reference }

// Example is a small commented job file that loads without further files.
func Example() string { return example }
