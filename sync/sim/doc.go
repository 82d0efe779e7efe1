// Package sim runs whole clubs of phones, their servers, a bad network, failing disks and wrong clocks in one goroutine, all
// drawn from one seed, and asserts the promises of ../SPEC.md after every step.
//
// The phones are sync/replica, the servers sync/relay over memstore, both as they are: the simulation only carries out their
// effects, late, twice, damaged or not at all. A World is made from a seed; Run plays an evening and then heals everything
// and waits for rest. A broken promise ends the run with a Fault that holds the seed and the script so far.
package sim
