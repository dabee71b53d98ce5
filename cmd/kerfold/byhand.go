package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"kerfold/cost"
	"kerfold/geom"
	"kerfold/geom/drawing"
	"kerfold/nest/shop"
)

// A byHand is the flags that describe parts no job file holds.
type byHand struct {
	Material string   `help:"For a drawing or size: the sheet's material." group:"What to cut"`
	Thick    string   `name:"thickness" help:"For a drawing or size: the sheet's thickness, such as 3 or '1/8 in'." placeholder:"MM" group:"What to cut"`
	Grade    string   `help:"For a drawing or size: the edge: separate, rough, medium, good or fine." default:"medium" group:"What to cut"`
	Tol      *float64 `name:"tolerance" help:"How far the bottom edge of the stack may stray, in mm; deeper stacks are refused." placeholder:"MM" group:"What to cut"`

	Job   string   `help:"For a drawing or size: job file with the machines, rates, materials and stock. Default: two demo machines and demo prices." placeholder:"FILE" group:"What to cut it with"`
	Price *float64 `name:"sheet-price" help:"Price of a sheet given by size." placeholder:"N" group:"What to cut it with"`
}

// isJobFile tells a job file by its name.
func isJobFile(name string) bool {
	ext := strings.ToLower(filepath.Ext(name))
	return ext == ".yaml" || ext == ".yml"
}

// shapes reads a drawing or a size.
func shapesOf(name string) ([]geom.Shape, error) {
	if ext := strings.ToLower(filepath.Ext(name)); ext == ".dxf" || ext == ".svg" {
		in, err := inspectFile(name, drawing.Options{})
		if err != nil {
			return nil, err
		}
		return shop.DrawnParts(in)
	}
	s, err := shop.ParseSize(name)
	if err != nil {
		return nil, fmt.Errorf("%w; or name a job file (.yaml) or a drawing (.dxf, .svg)", err)
	}
	return []geom.Shape{s}, nil
}

// orders makes orders of shapes, for the job.
func (h *byHand) orders(job *shop.Job, name string, parts []geom.Shape, quantity int) ([]shop.Order, error) {
	mm, err := h.thickness()
	if err != nil {
		return nil, err
	}
	grade, err := cost.ParseGrade(h.Grade)
	if err != nil {
		return nil, fmt.Errorf("--grade: %w", err)
	}
	material, err := shop.FindMaterial(job.Materials, h.Material)
	if err != nil {
		return nil, fmt.Errorf("--material: %w", err)
	}
	base := strings.TrimSuffix(filepath.Base(name), filepath.Ext(name))
	var out []shop.Order
	for i, s := range parts {
		id := base
		if len(parts) > 1 {
			id = fmt.Sprintf("%s, part %d", base, i+1)
		}
		o := shop.OrderByHand(id, s, quantity, material, mm, grade)
		if h.Tol != nil {
			o.ToleranceMM = *h.Tol
		}
		out = append(out, o)
	}
	return out, nil
}

// thickness is the sheet's thickness in mm, which no sheet of a shop exceeds
// by far.
func (h *byHand) thickness() (float64, error) {
	if h.Material == "" || h.Thick == "" {
		return 0, errors.New("give the sheet's --material and --thickness, such as --material 'mild steel' --thickness 3")
	}
	mm, err := shop.ParseLength(h.Thick)
	if err != nil {
		return 0, fmt.Errorf("--thickness %w", err)
	}
	if err := shop.CheckThickness(mm); err != nil {
		return 0, fmt.Errorf("--thickness %w", err)
	}
	return mm, nil
}

// equipment is the job that lends machines, rates, materials and stock, without
// its orders and what is worth reading about them.
func (h *byHand) equipment(c *console) (*shop.Job, error) {
	if h.Job == "" {
		c.say("no --job: two demo machines and demo prices stand in")
		return shop.DemoJob(), nil
	}
	job, err := loadJob(h.Job)
	if err == nil {
		job.Keep(nil)
	}
	return job, err
}

// noneOf complains about flags that go with drawings and sizes only.
func (h *byHand) noneOf() error {
	if h.Material != "" || h.Thick != "" || h.Job != "" {
		return errors.New("--material, --thickness and --job go with a drawing or a size: the job file has its own")
	}
	return nil
}

// money is a price given on the command line.
func (h *byHand) sheetPrice() (float64, error) {
	if h.Price == nil {
		return 0, nil
	}
	if !(*h.Price >= 0) || *h.Price > 1e9 {
		return 0, fmt.Errorf("--sheet-price is %v: give a number from 0 to a billion", *h.Price)
	}
	return *h.Price, nil
}

// pick keeps the orders named, all where none is.
func pick(name string, job *shop.Job, ids []string) ([]int, error) {
	var orders []int
	for i := range job.Orders {
		if len(ids) == 0 || slices.Contains(ids, job.Orders[i].ID) {
			orders = append(orders, i)
		}
	}
	for _, id := range ids {
		if !slices.ContainsFunc(job.Orders, func(o shop.Order) bool { return o.ID == id }) {
			return nil, fmt.Errorf("%s has no order %q", name, id)
		}
	}
	if len(orders) == 0 {
		return nil, fmt.Errorf("%s has no orders", name)
	}
	return orders, nil
}

// rectangle reads the size of a sheet, in mm.
func rectangle(flag, size string) (x, y float64, err error) {
	shape, err := shop.ParseSize(size)
	b := shape.Bounds()
	if err != nil || b.Max[0]*b.Max[1] > shape.Area()*(1+1e-6) {
		return 0, 0, fmt.Errorf("%s %s is neither a stock id nor the size of a rectangle, such as 1000x2000", flag, size)
	}
	return b.Max[0], b.Max[1], nil
}
