// Package shop reads what a shop has and wants: the job file with orders,
// materials, machines, stock and rates. It validates, and says what is wrong,
// where, and how to mend it.
package shop
