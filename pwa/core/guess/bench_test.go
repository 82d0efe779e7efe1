package guess

import "testing"

// BenchmarkProject projects the belief of a person who answers four questions,
// which happens while a thumb moves.
func BenchmarkProject(b *testing.B) {
	p := prior()
	p.Joint()
	said := Belief{
		{"origin/africa", 7800}, {"origin/africa/ethiopia", 6600}, {"origin/africa/ethiopia/guji", 3000},
		{"process/natural", 6100}, {"process/washed", 3000}, {"variety/arabica/landrace", 7000}, {"decaf/no", 9900},
	}
	for b.Loop() {
		if _, err := Project(p, said); err != nil {
			b.Fatal(err)
		}
	}
}
