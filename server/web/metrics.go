package web

import (
	"net/http"

	"github.com/prometheus/client_golang/prometheus"
	"github.com/prometheus/client_golang/prometheus/collectors"
	"github.com/prometheus/client_golang/prometheus/promhttp"

	"hushcup/sync/relay"
)

// Metrics count what a server does. No label names a book, a device or a person.
type Metrics struct {
	registry *prometheus.Registry
	events   *prometheus.CounterVec
}

// NewMetrics makes counters of their own; gauges are asked when somebody looks.
func NewMetrics(gauges map[string]func() float64) *Metrics {
	m := &Metrics{
		registry: prometheus.NewRegistry(),
		events: prometheus.NewCounterVec(prometheus.CounterOpts{Name: "hushcup_events_total",
			Help: "What sessions did: ops pushed, acknowledged, refused (by code), delivered; bodies dropped; subscriptions closed; the database down."},
			[]string{"what", "code"}),
	}
	m.registry.MustRegister(m.events, collectors.NewGoCollector(), collectors.NewProcessCollector(collectors.ProcessCollectorOpts{}))
	for name, ask := range gauges {
		m.registry.MustRegister(prometheus.NewGaugeFunc(prometheus.GaugeOpts{Name: "hushcup_" + name, Help: "Now: " + name + "."}, ask))
	}
	return m
}

// Note counts a relay's note.
func (m *Metrics) Note(n relay.Note) {
	m.events.WithLabelValues(n.What, known(n.Code)).Add(float64(n.N))
}

// known keeps the label within the codes that the relay and the rules have: all are short words.
func known(code string) string {
	if len(code) > 40 {
		return "other"
	}
	return code
}

// ServeHTTP answers in the text format.
func (m *Metrics) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	promhttp.HandlerFor(m.registry, promhttp.HandlerOpts{}).ServeHTTP(w, r)
}
