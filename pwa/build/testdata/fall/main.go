// Command fall exercises what the runtime needs its function tables for, and then falls over.
package main

import (
	"fmt"
	"runtime"
	"strings"
)

type cup struct {
	next  *cup
	grams [16]int
}

var zeros [1 << 16]int // a long run of zeros between what is not zero

func main() {
	fmt.Println("stack:", grow(2000, nil))
	fmt.Println("recovered:", recovered(func() { var empty []int; _ = empty[len(zeros)] }))
	fmt.Println("recovered:", recovered(func() { var none *cup; none.grams[0]++ }))
	fmt.Println("caller:", caller())
	done := make(chan int)
	for i := range 8 {
		go func() { done <- grow(500+i, nil) }()
	}
	sum := 0
	for range 8 {
		sum += <-done
	}
	fmt.Println("goroutines:", sum)
	pour(3)
}

// grow lets the stack be copied and its pointers be found by the garbage collector on the way down.
func grow(depth int, above *cup) int {
	c := &cup{next: above}
	c.grams[depth%16] = 1
	if depth%500 == 0 {
		runtime.GC()
	}
	if depth == 0 {
		n := 0
		for ; c != nil; c = c.next {
			n++
		}
		return n
	}
	return grow(depth-1, c)
}

func recovered(fall func()) (why string) {
	defer func() { why = fmt.Sprint(recover()) }()
	fall()
	return "nothing"
}

func caller() string {
	pc, file, line, ok := runtime.Caller(0)
	name := runtime.FuncForPC(pc).Name()
	if !ok || strings.HasSuffix(file, "main.go") && line == 0 {
		return "unknown"
	}
	return name
}

//go:noinline
func pour(left int) {
	if left == 0 {
		panic("spilt")
	}
	pour(left - 1)
	zeros[left]++
}
