// Package report writes what people look at: pictures of layouts, layout
// drawings for the machine side, the cut list, the stock register and the plan.
package report
