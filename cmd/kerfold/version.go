package main

import (
	"fmt"
	"runtime/debug"

	"kerfold/nest/report"
	"kerfold/nest/shop"
)

// VersionCmd prints the version.
type VersionCmd struct{}

// Run prints the version the program was built from, and the formats it knows.
func (cmd *VersionCmd) Run(c *console) error {
	version := "unknown"
	if info, ok := debug.ReadBuildInfo(); ok {
		version = info.Main.Version
	}
	_, err := fmt.Fprintf(c.out, "kerfold %s\njob format %d, plan format %d\n", version, shop.Version, report.FormatVersion)
	return err
}
