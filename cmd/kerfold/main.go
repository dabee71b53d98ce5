// Kerfold plans a week of waterjet work.
package main

func main() {}
