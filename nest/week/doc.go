// Package week plans a week of work: it groups orders by material, thickness
// and grade, lays each group out, chooses how often each layout is cut and how
// many sheets at once, and puts the runs on machines and days.
package week
