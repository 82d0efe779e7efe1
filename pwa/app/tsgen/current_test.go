package main

import "testing"

func TestCommittedTypesAreCurrent(t *testing.T) {
	if err := run(true); err != nil {
		t.Fatal(err)
	}
}
