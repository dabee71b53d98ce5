package main

// A published row holds densities in percent, as printed in the papers below; 0
// where a paper gives none. Average and best are over the paper's runs.
type published struct {
	hybrid2006             float64 // [1] best
	cuckooAvg, cuckooBest  float64 // [2]
	rasterAvg, rasterBest  float64 // [3]
	separateAvg, separateB float64 // [4]
}

// citations names the papers of the published columns, and what their figures
// cost.
const citations = `[1] Gomes A.M., Oliveira J.F. 2006, Solving irregular strip packing problems by hybridising simulated annealing and
    linear programming, EJOR 171(3) 811-829. Best of 20; 5 min to 3 h on a 2.4 GHz Pentium IV
[2] Elkeran A. 2013, A new approach for sheet nesting problem using guided cuckoo search and pairwise clustering,
    EJOR 231(3) 757-769. 10 to 20 min
[3] Sato A.K., Martins T.C., Gomes A.M., Tsuzuki M.S.G. 2019, Raster penetration map applied to the irregular packing
    problem, EJOR 279(2) 657-671
[4] Gardeyn J., Vanden Berghe G., Wauters T. 2025, An open-source heuristic to reboot 2D nesting research, arXiv:2509.13329.
    20 min on 3 threads, mean of 100; strip widened by 0.01 % on shapes0-2, fu, jakobs1-2
(m) from memory, unverified. Bottom-left with genetic or hill-climbed order: mean of the 12 about 78.9 (Burke E., Hellier R., Kendall G.,
    Whitwell G. 2006, Operations Research 54(3), from memory, unverified)`

// publishedDensities are typed from the papers.
var publishedDensities = map[string]published{
	"albano":   {87.43, 87.47, 89.58, 87.55, 0, 89.47, 89.82},
	"dagli":    {87.15, 87.06, 89.51, 87.50, 0, 89.26, 90.17},
	"fu":       {90.96, 90.68, 92.41, 91.95, 0, 92.24, 92.41},
	"jakobs1":  {78.89, 88.90, 89.09, 89.09, 89.09, 89.09, 89.26},
	"jakobs2":  {77.28, 81.14, 87.73, 83.56, 87.73, 84.77, 87.73},
	"mao":      {82.54, 82.93, 85.44, 83.76, 86.05, 86.14, 86.87},
	"marques":  {88.14, 89.40, 90.59, 89.97, 91.02, 90.93, 92.02},
	"shapes0":  {66.50, 67.26, 68.79, 68.73, 68.79, 68.60, 69.98},
	"shapes1":  {71.25, 73.79, 76.73, 75.86, 76.73, 75.69, 76.73},
	"shapes2":  {83.59, 82.40, 84.84, 83.02, 0, 84.68, 86.23},
	"shirts":   {86.79, 87.59, 88.96, 87.62, 0, 89.66, 90.92},
	"swim":     {74.37, 74.49, 75.94, 74.29, 0, 78.26, 79.83},
	"trousers": {89.96, 89.02, 91.00, 90.48, 91.06, 91.73, 92.62},
}

// fromMemory marks the figures that were quoted from memory.
var fromMemory = map[string]published{
	"jakobs1": {hybrid2006: 1}, "jakobs2": {hybrid2006: 1},
	"mao":      {hybrid2006: 1, cuckooBest: 1},
	"marques":  {cuckooBest: 1},
	"trousers": {cuckooBest: 1},
}

// theTwelve are the strips whose mean is compared: all of the table but shapes2.
var theTwelve = []string{
	"albano", "dagli", "fu", "jakobs1", "jakobs2", "mao", "marques", "shapes0", "shapes1", "shirts", "swim", "trousers",
}

// publishedMeans are the papers' means of the twelve.
var publishedMeans = published{hybrid2006: 79.5, cuckooAvg: 83.3, rasterAvg: 84.2, separateAvg: 85.5}
