package guess

import (
	"sort"

	"hushcup/pwa/core/atlas"
)

// Beans is how many beans a person has to place on the answers to a question;
// each stands for five in a hundred.
const Beans = 20

const perBean = atlas.Whole / Beans

// Placed says how many beans lie on a node itself. Beans on a node that also
// has beans further down mean "elsewhere in it".
type Placed struct {
	Node  atlas.NodeID
	Beans int
}

// FromBeans returns the belief that beans on the nodes of one facet stand for.
// Beans still in the hand say nothing yet: what they are worth stays spread
// over the rest as it was likely before.
func FromBeans(a *atlas.Atlas, placed []Placed) (Belief, error) {
	own := map[atlas.NodeID]int{}
	sum := 0
	for _, p := range placed {
		node, err := a.Node(p.Node)
		problem := Problem{Node: p.Node, Said: p.Beans * perBean}
		switch _, twice := own[p.Node]; {
		case err != nil || node.ID.Depth() == 0:
			problem.Code = CodeUnknownNode
		case twice:
			problem.Code = CodeTwice
		case p.Beans < 0 || p.Beans > Beans:
			problem.Code = CodeShare
		}
		if problem.Code != "" {
			return nil, &problem
		}
		own[p.Node] = p.Beans
		sum += p.Beans
	}
	if sum > Beans {
		return nil, &Problem{Code: CodeOverWhole, Node: placed[0].Node, Said: atlas.Whole, Sum: sum * perBean}
	}
	return addUp(placed), nil
}

// addUp gives every node its own beans and those further down.
func addUp(placed []Placed) (out Belief) {
	for _, node := range placed {
		share := 0
		for _, p := range placed {
			if p.Node.Under(node.Node) {
				share += p.Beans * perBean
			}
		}
		if share > 0 {
			out = append(out, Mass{node.Node, share})
		}
	}
	return out.Canonical()
}

// ToBeans shares the beans out over masses that add up to one, by largest
// remainders; equal ones go to the earlier mass.
func ToBeans(masses []float64) []int {
	out := make([]int, len(masses))
	order := make([]int, len(masses))
	left := Beans
	for i, m := range masses {
		order[i] = i
		out[i] = int(float64(m * Beans))
		left -= out[i]
	}
	remainder := func(i int) float64 { return float64(masses[i]*Beans) - float64(out[i]) }
	sort.SliceStable(order, func(a, b int) bool { return remainder(order[a]) > remainder(order[b]) })
	for _, i := range order[:min(max(left, 0), len(order))] {
		out[i]++
	}
	return out
}
