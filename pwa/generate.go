package pwa

//go:generate go run ./app/tsgen
//go:generate go run ./build
