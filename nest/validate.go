package nest

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// Validate reports the first thing that makes the problem meaningless: no
// parts, an outline without area, a coordinate out of range, a negative
// quantity or clearance, no sheet to lay on. It does not try whether the parts
// fit; that is the searches' answer ([Infeasible]).
func (p Problem) Validate() error {
	if err := p.validateGround(); err != nil {
		return err
	}
	for i, part := range p.Parts {
		if err := part.validate(); err != nil {
			return fmt.Errorf("part %d (%q): %w", i+1, part.ID, err)
		}
	}
	for i, s := range p.Sheets {
		if err := s.validate(); err != nil {
			return fmt.Errorf("sheet %d (%q): %w", i+1, s.ID, err)
		}
	}
	return nil
}

func (p Problem) validateGround() error {
	switch {
	case len(p.Parts) == 0:
		return fmt.Errorf("no parts to lay out; give at least one")
	case !(p.Spacing >= 0) || !(p.Margin >= 0) || math.IsInf(p.Spacing+p.Margin, 0):
		return fmt.Errorf("spacing %v and margin %v must be finite and not negative", p.Spacing, p.Margin)
	case math.IsNaN(p.StripWidth) || p.StripWidth < 0 || p.StripWidth > geom.MaxCoordinate:
		return fmt.Errorf("strip width %v is out of range; give millimetres up to %d", p.StripWidth, geom.MaxCoordinate)
	case p.StripWidth > 0 && len(p.Sheets) > 0:
		return fmt.Errorf("both a strip and sheets are given; give one of them")
	case p.StripWidth == 0 && len(p.Sheets) == 0:
		return fmt.Errorf("nothing to lay out on; give sheets or a strip width")
	}
	return nil
}

func (p Part) validate() error {
	if p.Quantity < 0 || p.Extra < 0 || p.PerKit < 0 {
		return fmt.Errorf("quantity %d, extra %d and copies per kit %d must not be negative", p.Quantity, p.Extra, p.PerKit)
	}
	for _, a := range p.Angles {
		if math.IsNaN(a) || math.IsInf(a, 0) {
			return fmt.Errorf("angle %v is not a number of degrees", a)
		}
	}
	return validateOutline(p.Outline)
}

func (s Sheet) validate() error {
	if s.Count < 0 {
		return fmt.Errorf("count %d must not be negative", s.Count)
	}
	if !(s.Cost >= 0) || math.IsInf(s.Cost, 0) {
		return fmt.Errorf("cost %v must be finite and not negative", s.Cost)
	}
	return validateOutline(s.Outline)
}

func validateOutline(poly orb.Polygon) error {
	if len(poly) == 0 {
		return fmt.Errorf("no outline; draw one")
	}
	for _, ring := range poly {
		if err := validateRing(ring); err != nil {
			return err
		}
	}
	return nil
}

func validateRing(ring orb.Ring) error {
	for _, pt := range ring {
		if !(math.Abs(pt[0]) <= geom.MaxCoordinate && math.Abs(pt[1]) <= geom.MaxCoordinate) {
			return fmt.Errorf("point (%v, %v) is out of range; stay within ±%d mm", pt[0], pt[1], geom.MaxCoordinate)
		}
	}
	snapped := geom.SnapRing(ring)
	if len(snapped) < 3 || geom.RingArea(snapped) == 0 {
		return fmt.Errorf("a contour of %d points encloses no area; redraw it", len(ring))
	}
	return nil
}
