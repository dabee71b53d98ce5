package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// dataEnv names the folder of instances when the flag does not.
const dataEnv = "KERFOLD_DATASETS"

// dataFolder is where the instances are: the flag, the environment, or a folder
// beside the project. It is empty, and no error, when there is none to be found
// and none was asked for.
func dataFolder(flag string) (string, error) {
	dir := flag
	if dir == "" {
		dir = os.Getenv(dataEnv)
	}
	if dir == "" {
		dir = filepath.Join("..", "shared", "datasets")
		if _, err := os.Stat(dir); err != nil {
			return "", nil
		}
	}
	if _, err := os.Stat(dir); err != nil {
		return "", fmt.Errorf("no instances at %q; give their folder with -data or %s", dir, dataEnv)
	}
	return dir, nil
}

// generated lists all instances the program makes itself.
func generated() []instance {
	return slices.Concat(builtIn(), gaskets(), mixes())
}

// readFolder reads strip/*.json and bin/*/*.json of a data folder; a bin
// instance's set is the name of the folder it lies in.
func readFolder(dir string) ([]instance, error) {
	var list []instance
	for _, pattern := range []string{"strip/*.json", "bin/*/*.json"} {
		files, err := filepath.Glob(filepath.Join(dir, pattern))
		if err != nil {
			return nil, err
		}
		for _, file := range files {
			in, err := readFile(file)
			if err != nil {
				return nil, err
			}
			in.Set = filepath.Base(filepath.Dir(file))
			list = append(list, in)
		}
	}
	return list, nil
}

// readFile reads one instance in any of the three forms, by what is in it.
func readFile(file string) (instance, error) {
	data, err := os.ReadFile(file)
	if err != nil {
		var path *fs.PathError
		if errors.As(err, &path) {
			err = path.Err
		}
		return instance{}, fmt.Errorf("%s: %w", file, err)
	}
	in, err := read(data)
	if err != nil {
		return instance{}, fmt.Errorf("%s: %w", file, err)
	}
	if in.Name == "" {
		in.Name = strings.ToLower(strings.TrimSuffix(filepath.Base(file), filepath.Ext(file)))
	}
	in.Set = "file"
	return in, nil
}

func read(data []byte) (instance, error) {
	head := bytes.TrimSpace(data)
	switch {
	case bytes.HasPrefix(head, []byte("{")):
		return readJSON(data)
	case bytes.HasPrefix(head, []byte("<")):
		return readXML(data)
	}
	return readTXT(data)
}

// choose keeps the instances that are named, by name or by set, in the order of
// the list. Without names it keeps the strips of the public collection.
func choose(list []instance, names string) ([]instance, error) {
	if names == "" {
		return slices.DeleteFunc(slices.Clone(list), func(in instance) bool { return in.Set != "strip" }), nil
	}
	var chosen []instance
	for _, name := range strings.Split(names, ",") {
		name = strings.TrimSpace(name)
		before := len(chosen)
		for _, in := range list {
			if name == "all" || in.Name == name || in.Set == name {
				chosen = append(chosen, in)
			}
		}
		if len(chosen) == before {
			return nil, fmt.Errorf("no instance or set is called %q; known are %s", name, strings.Join(known(list), ", "))
		}
	}
	return chosen, nil
}

// known lists the sets and the names of the strips.
func known(list []instance) []string {
	var words []string
	for _, in := range list {
		if !slices.Contains(words, in.Set) {
			words = append(words, in.Set)
		}
	}
	for _, in := range list {
		if in.Set == "strip" || in.Set == builtInSet {
			words = append(words, in.Name)
		}
	}
	return words
}
