package postgres

import (
	"fmt"
	"maps"
	"slices"
)

// CheckRegister compares the register with a catalog of tables and their columns: each line names something without a class, or a class
// without a column.
func CheckRegister(catalog map[string][]string) []string {
	tables := maps.Clone(catalog)
	var wrong []string
	for _, r := range registers() {
		have, ok := tables[r.Name]
		delete(tables, r.Name)
		switch {
		case !ok:
			wrong = append(wrong, r.Name+" is no table, or is there twice")
		case (r.Where == "") == (r.None == ""):
			wrong = append(wrong, r.Name+" is neither about a child nor said to be about something else")
		case r.Where != "":
			wrong = append(wrong, r.check(have)...)
		}
	}
	for name := range tables {
		wrong = append(wrong, name+" has no class")
	}
	return wrong
}

func (r register) check(have []string) []string {
	var wrong, classed []string
	for _, c := range r.Columns {
		if !slices.Contains(have, c.Name) || slices.Contains(classed, c.Name) {
			wrong = append(wrong, fmt.Sprintf("%s.%s is no column, or is classed twice", r.Name, c.Name))
		}
		if (c.SQL == "") == (c.Withheld == "") {
			wrong = append(wrong, fmt.Sprintf("%s.%s is neither given nor withheld for a reason", r.Name, c.Name))
		}
		classed = append(classed, c.Name)
	}
	for _, name := range have {
		if !slices.Contains(classed, name) {
			wrong = append(wrong, fmt.Sprintf("%s.%s has no class", r.Name, name))
		}
	}
	return wrong
}
