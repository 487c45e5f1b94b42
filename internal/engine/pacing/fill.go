package pacing

// fill sees that every slot, and every run of slots, can still get the least it must.
func (n *narrower) fill(d []uint64, r int) (ok, changed bool) {
	ok, changed = n.fillSlots(d, r)
	if !ok || len(n.m.weeks) == 0 || n.floor[r][len(n.m.weeks)] <= 0 {
		return ok, changed
	}
	some := false
	ok, some = n.fillRuns(d, r)
	return ok, changed || some
}

// fillSlots counts also what cannot go anywhere else, because all the other slots together have no room for it.
func (n *narrower) fillSlots(d []uint64, r int) (ok, changed bool) {
	slots := len(n.m.weeks)
	total := n.weighs[r]
	for _, i := range n.heavy {
		total += n.must(d, r, i, 0, slots-1)
	}
	for s := range slots {
		floor := max(n.least[r][s], total-(n.room[r][slots]-n.most[r][s]))
		if floor <= 0 {
			continue
		}
		can := n.canReach(d, r, s)
		if can < floor || !n.addsUp(d, r, s, floor) {
			return false, true
		}
		for _, i := range n.plain[r] {
			if can-n.m.load[r][i] >= floor {
				break
			}
			if d[i]>>s&1 == 1 && d[i] != 1<<s {
				d[i] = 1 << s
				changed = true
			}
		}
	}
	return true, changed
}

// canReach is the most that can be in a slot.
func (n *narrower) canReach(d []uint64, r, s int) int {
	can := 0
	for _, i := range n.plain[r] {
		if d[i]>>s&1 == 1 {
			can += n.m.load[r][i]
		}
	}
	for _, i := range n.heavy {
		most := 0
		for set := d[i]; set != 0; set &= set - 1 {
			most = max(most, n.puts(r, i, first(set), s, s))
		}
		can += most
	}
	return can
}

// addsUp reports whether rungs that may be in a slot add up to an amount from the floor to the most. It judges only slots
// without load of rungs seen again and with up to 63 left to fill; else it answers true.
func (n *narrower) addsUp(d []uint64, r, s, floor int) bool {
	if len(n.heavy) > 0 {
		return true
	}
	there := 0
	for _, i := range n.plain[r] {
		if d[i] == 1<<s {
			there += n.m.load[r][i]
		}
	}
	left := n.most[r][s] - there
	if there >= floor || left > 63 || left < 0 {
		return left >= 0
	}
	sums := uint64(1) // bit k: some of the rungs add up to k
	for _, i := range n.plain[r] {
		if d[i]>>s&1 == 1 && d[i] != 1<<s {
			sums |= sums << n.m.load[r][i]
		}
	}
	return sums&span(floor-there, left) != 0
}

func (n *narrower) fillRuns(d []uint64, r int) (ok, changed bool) {
	slots := len(n.m.weeks)
	for a := range slots {
		for b := a + 1; b < slots; b++ {
			floor, inside, can := n.floor[r][b+1]-n.floor[r][a], span(a, b), 0
			for _, i := range n.plain[r] {
				if d[i]&inside != 0 {
					can += n.m.load[r][i]
				}
			}
			for _, i := range n.heavy {
				most := 0
				for set := d[i]; set != 0; set &= set - 1 {
					most = max(most, n.puts(r, i, first(set), a, b))
				}
				can += most
			}
			if can < floor {
				return false, true
			}
			for _, i := range n.plain[r] {
				if can-n.m.load[r][i] >= floor {
					break
				}
				if cut := d[i] & inside; cut != 0 && cut != d[i] {
					d[i] = cut
					changed = true
				}
			}
		}
	}
	return true, changed
}
