// Package shop reads what a shop has and wants: the job file with orders,
// materials, machines, stock and rates. It validates, and says what is wrong,
// where, and how to mend it.
//
// # Reading
//
// [Load] reads a YAML job file from a file system, and with it the drawings,
// the tables of orders (CSV, XLSX) and the stock register it names. [Reference]
// describes every key, [Example] is a small job. The readers share one road:
//
//  1. files become values, each with its place (yaml.go, csv.go, workbook.go);
//     a row of a table and an order in YAML are the same kind of value;
//  2. fields take values apart key by key, with units, limits and nearest words
//     (fields.go, quantity.go, units.go); a key nobody asked for is refused;
//  3. sections make the job's types of them (orders.go, stock.go, machines.go,
//     rates.go, materials.go, calendar.go, shapes.go, drawings.go);
//  4. the whole is held together: stock for every group, a machine that can cut
//     it, a sheet each part fits, kits that can be kits (validate.go).
//
// # Problems
//
// Nothing stops at the first problem. [Problems] has all of them in file order,
// each with file, line, column, the order or machine it concerns, the fact, and
// the mend. What may be right but should be looked at is in Job.Warnings.
//
// # Units
//
// A job file may use any unit it names; the job holds millimetres, megapascals,
// kilograms and seconds as the rest of the house does. Shapes are on the grid,
// arcs kept, with their bounding box at the origin. Equal thicknesses written in
// different units are equal in the job.
package shop
