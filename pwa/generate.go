package pwa

//go:generate go run ./build
