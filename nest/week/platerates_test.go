package week

// plateRates is the material and most of the rates of jobs made for tests; a job
// goes on with what its machines' work takes.
const plateRates = `materials:
  - {name: test plate, process: abrasive, family: metal, machinability: 213, density_kg_per_m3: 2700, source: demo}
rates:
  {source: demo, currency: EUR, machine_per_hour: 60, labour_per_hour: 40, abrasive_per_kg: 0.5, power_per_kwh: 0.2,
   water_per_m3: 4, disposal_per_kg: 0.2, tube_price: 100, orifice_price: 20, tube_life_h: 70, orifice_life_h: 70,
`
