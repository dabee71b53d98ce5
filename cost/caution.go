package cost

import (
	"fmt"
	"strings"
)

// A Topic names what a caution is about.
type Topic string

// The topics, by what endangers people first.
const (
	TopicInjection  Topic = "fluid injection"
	TopicNoise      Topic = "noise"
	TopicGlass      Topic = "brittle sheet"
	TopicLaminate   Topic = "laminate"
	TopicAsbestos   Topic = "asbestos"
	TopicDust       Topic = "dust"
	TopicHydrogen   Topic = "hydrogen"
	TopicWater      Topic = "spent water and sludge"
	TopicMachine    Topic = "machine safety"
	TopicStack      Topic = "stack"
	TopicThinWeb    Topic = "thin webs"
	TopicTolerance  Topic = "tolerance"
	TopicEstimate   Topic = "estimates"
	TopicLoad       Topic = "lifting"
	TopicUnfamiliar Topic = "unusual setting"
)

// A Caution is a warning to show with a result, and where it comes from.
type Caution struct {
	Topic  Topic
	Text   string
	Source Source
}

// A cautionRule is a caution and when it applies.
type cautionRule struct {
	topic  Topic
	source Source
	when   func(Setup) bool
	text   func(Setup) string
}

func always(Setup) bool { return true }

func says(text string) func(Setup) string { return func(Setup) string { return text } }

// cautionRules are the cautions in the order in which they are shown.
var cautionRules = []cautionRule{
	{
		TopicInjection, CommonPractice, always,
		says("a jet that breaks the skin is a surgical emergency however small the wound looks: go to a hospital at once and say it was a high-pressure water jet; keep hands out of the jet's reach and depressurise before touching the head"),
	},
	{
		TopicNoise, CommonPractice, always,
		says("the jet in air is loud enough to harm hearing: cut under water or wear protection"),
	},
	{
		TopicMachine, "EN 1829-1; ISO 12100", always,
		says("high-pressure water jet machines are covered by EN 1829-1, machine safety in general by ISO 12100"),
	},
	{
		TopicGlass, CommonPractice, func(s Setup) bool { return s.Material.Brittle },
		says("brittle sheet cracks under a full-pressure pierce: start at low pressure, or from the edge or a pre-drilled hole"),
	},
	{
		TopicLaminate, CommonPractice, func(s Setup) bool { return s.Material.Laminate },
		says("laminated sheet splits between its plies at the pierce: start at low pressure, or from the edge or a pre-drilled hole"),
	},
	{
		TopicDust, CommonPractice, func(s Setup) bool { return s.Material.Fibrous },
		says("fibres and their dust harm the lungs and skin: keep sludge wet, and wear protection when handling dry parts and dried sludge"),
	},
	{
		TopicDust, CommonPractice, func(s Setup) bool { return !s.Material.Fibrous && s.Material.Process == Abrasive },
		says("dried abrasive sludge dusts: keep it wet until it is packed"),
	},
	{
		TopicAsbestos, CommonPractice, func(s Setup) bool { return s.Material.Family == Board && s.Material.Fibrous },
		says("old fibre sheet may hold asbestos: have sheet of unknown make tested before it is cut; jobs with asbestos are refused"),
	},
	{
		TopicHydrogen, CommonPractice, func(s Setup) bool { return s.Material.Aluminium },
		says("aluminium fines in the tank react with water and give off hydrogen: clean the tank, keep it ventilated and away from flames, and never seal wet fines in a closed drum"),
	},
	{
		TopicWater, CommonPractice, func(s Setup) bool { return len(s.Material.ToxicMetals) > 0 },
		func(s Setup) string {
			return fmt.Sprintf("spent water and sludge may carry %s: have them tested and treated before disposal, and keep this material's sludge apart", strings.Join(s.Material.ToxicMetals, ", "))
		},
	},
	{
		TopicWater, CommonPractice, func(s Setup) bool { return len(s.Material.ToxicMetals) == 0 && s.Material.Process == Abrasive },
		says("spent water and sludge are tested and treated before disposal"),
	},
	{
		TopicStack, CommonPractice, Setup.isStack,
		says("clamp the stack flat: a void between the layers loses the jet's coherence, and edges roughen downward; look at the bottom layer before running the rest"),
	},
	{
		TopicStack, CommonPractice, func(s Setup) bool { return s.isStack() && s.Material.Brittle },
		says("the lower sheets of a brittle stack crack first: keep to few layers and check every one"),
	},
	{
		TopicLoad, Derived, func(s Setup) bool { return s.Material.DensityKgPerM3.Value*s.HeightMM() > heavyKgPerM2*mmPerM },
		func(s Setup) string {
			load := "the sheet is heavy"
			if s.isStack() {
				load = "the stack is heavy"
			}
			return load + ": use lifting gear and mind what the table's slats bear"
		},
	},
	{
		TopicTolerance, Derived, func(s Setup) bool { return s.ToleranceMM > 0 && s.bottomShift() > s.ToleranceMM },
		func(s Setup) string {
			return fmt.Sprintf("the bottom edge may stray by about %.3f mm, more than the %.3f mm allowed: ask for a finer grade or cut a test part", s.bottomShift(), s.ToleranceMM)
		},
	},
	{
		TopicThinWeb, Unverified, func(s Setup) bool { return s.Material.Process == Abrasive && s.ThinWebs != "" },
		func(s Setup) string {
			return fmt.Sprintf("%s: a web of %.2g mm or less between two cuts may break through at this thickness: widen it, or cut a test part", s.ThinWebs, ThinWebMM(s.SolidMM()))
		},
	},
	{
		TopicEstimate, CommonPractice, always,
		says("figures are estimates; local codes and licensed practice decide"),
	},
}

// heavyKgPerM2 is the mass of a square metre of stack from which lifting is
// pointed out: a plate of steel 10 mm thick [Derived].
const heavyKgPerM2 = 80

// Cautions returns the cautions that apply to a setup, in a fixed order. The
// error is a [*Refusal] for a material that must not be cut: asbestos.
func Cautions(s Setup) ([]Caution, error) {
	s = s.filled()
	if r := refuseMaterial(s.Material); r != nil {
		return nil, r
	}
	var out []Caution
	for _, r := range cautionRules {
		if r.when(s) {
			out = append(out, Caution{r.topic, r.text(s), r.source})
		}
	}
	for _, w := range s.Machine.Warnings() {
		out = append(out, Caution{TopicUnfamiliar, w, CommonPractice})
	}
	return out, nil
}

// MergeCautions joins lists of cautions, each text once, in order of first sight.
func MergeCautions(lists ...[]Caution) []Caution {
	var out []Caution
	seen := map[string]bool{}
	for _, l := range lists {
		for _, c := range l {
			if !seen[c.Text] {
				seen[c.Text] = true
				out = append(out, c)
			}
		}
	}
	return out
}
