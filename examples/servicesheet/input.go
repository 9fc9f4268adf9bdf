package main

import (
	_ "embed"
	"io"
	"os"

	"example.com/snugturn/service"
)

//go:embed demo.json
var demo []byte

//go:embed demo-rules.json
var demoRules []byte

const tooMuch = 4<<20 + 1 // one byte more than any of the files may have

// read takes no more of a file than it can have.
func read(file string, in io.Reader) (data []byte, name string, err error) {
	switch file {
	case "":
		return demo, "demo.json", nil
	case "-":
		data, err = io.ReadAll(io.LimitReader(in, tooMuch))
		return data, "standard input", err
	}
	data, err = readFile(file)
	return data, file, err
}

// readJob reads the job of a file, laid over a machine card if one is named.
func readJob(data []byte, file, card string) (job service.Job, name string, err error) {
	if card == "" {
		job, err = service.ReadJob(data)
		return job, file, err
	}
	machine, err := readFile(card)
	if err != nil {
		return job, card, err
	}
	job, err = service.ReadJobOn(machine, data)
	return job, file + " on " + card, err
}

// readRules reads the rules, if a file is named; the demonstration has rules of its own.
func readRules(file string, demonstration bool) (rules service.Rules, name string, err error) {
	data, name := demoRules, "demo-rules.json"
	if file == "" && !demonstration {
		return service.Rules{}, "", nil
	}
	if file != "" {
		name = file
		if data, err = readFile(file); err != nil {
			return service.Rules{}, name, err
		}
	}
	rules, err = service.ReadRules(data)
	return rules, name, err
}

func readFile(file string) ([]byte, error) {
	f, err := os.Open(file)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, tooMuch))
}
