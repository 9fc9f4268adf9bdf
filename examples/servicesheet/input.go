package main

import (
	_ "embed"
	"io"
	"os"
)

//go:embed demo.json
var demo []byte

const tooMuch = 1<<20 + 1 // one byte more than a job file may have

// read takes no more of a file than a job can have.
func read(file string, in io.Reader) (data []byte, name string, err error) {
	switch file {
	case "":
		return demo, "demo.json", nil
	case "-":
		data, err = io.ReadAll(io.LimitReader(in, tooMuch))
		return data, "standard input", err
	}
	f, err := os.Open(file)
	if err != nil {
		return nil, "job file", err
	}
	defer f.Close()
	data, err = io.ReadAll(io.LimitReader(f, tooMuch))
	return data, file, err
}
