// Benchmarks runs layout searches on public test instances and prints the
// yields beside published ones.
package main

func main() {}
