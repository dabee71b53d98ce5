package report

// tints is how many fills there are. They only help the eye to tell neighbours
// apart; numbers carry the meaning.
const tints = 6

// sheetStyle is the one style sheet of the pages. The tints keep at least
// 10 : 1 contrast with black print, and print as near-white on a grey printer;
// blue, orange and grey stay apart for every common kind of colour blindness.
const sheetStyle = `
.page{fill:#fff}
text{font-family:sans-serif;fill:#111}
.sheet{fill:#fbfbf9;stroke:#111;stroke-width:.5}
.blocked{fill:url(#hatch);stroke:#111;stroke-width:.3}
.remnant{fill:url(#dots);stroke:#111;stroke-width:.35;stroke-dasharray:2.4 1.2}
.part path{stroke:#111;stroke-width:.18;fill-rule:evenodd}
.t0 path,.t0{fill:#d6e6f2}.t1 path,.t1{fill:#fbe3c0}.t2 path,.t2{fill:#e4e4e0}
.t3 path,.t3{fill:#cdeae2}.t4 path,.t4{fill:#f6dce6}.t5 path,.t5{fill:#f5f0b8}
.lead path{fill:none;stroke:#0a4a7a;stroke-width:.13}
.lead circle{fill:#fff;stroke:#0a4a7a;stroke-width:.13}
.number text{text-anchor:middle;font-weight:600}
.number .led{stroke:#000;stroke-width:.2}
.number .tight{paint-order:stroke;stroke:#fff;stroke-width:.6;stroke-linejoin:round}
.sever{fill:none;stroke:#111;stroke-width:.7;stroke-dasharray:5 1 1 1}
.raised{fill:none;stroke:#111;stroke-width:.22;stroke-dasharray:1.2 .8}
.tab{fill:#111;stroke:#fff;stroke-width:.2}
.zone{text-anchor:middle;font-style:italic;paint-order:stroke;stroke:#fff;stroke-width:.9}
.rule{stroke:#111;stroke-width:.3;fill:none}
.hair{stroke:#888;stroke-width:.12;fill:none}
.ink{fill:#111}
.name{fill:#fff;font-weight:700}
.of{fill:#fff}
.key{fill:#555}
.val{font-weight:600}
.right{text-anchor:end}
.mid{text-anchor:middle}
.head{font-weight:600;fill:#333}
.small{fill:#444}
`

const hatchDefs = `<pattern id="hatch" width="2" height="2" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="2" height="2" fill="#fff"/><line x1="0" y1="0" x2="0" y2="2" stroke="#555" stroke-width=".5"/></pattern>
<pattern id="dots" width="3" height="3" patternUnits="userSpaceOnUse"><rect width="3" height="3" fill="#fff"/><circle cx="1.5" cy="1.5" r=".22" fill="#888"/></pattern>
`
