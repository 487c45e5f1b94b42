package report

import (
	"bytes"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf16"
)

// addTags appends the structure to a finished file as an incremental update (ISO 32000-1, 7.5.6 and 14.7), which the PDF library
// cannot write: the file's own bytes stay, and its catalog and pages get newer versions that know the structure.
func addTags(file []byte, t *tags) ([]byte, error) {
	u, err := newUpdate(file)
	if err != nil {
		return nil, fmt.Errorf("tag a PDF: %w", err)
	}
	root, parents := u.reserve(), u.reserve()
	numbers := map[*element]int{}
	u.number(t.root, numbers)
	u.writeElement(t.root, root, numbers)
	var nums strings.Builder
	for page := 1; page <= len(t.owners); page++ {
		refs := make([]string, len(t.owners[page]))
		for i, owner := range t.owners[page] {
			refs[i] = ref(numbers[owner])
		}
		fmt.Fprintf(&nums, "%d [%s]\n", page, strings.Join(refs, " "))
		if err := u.amend(pageObject(page), fmt.Sprintf("/StructParents %d /Tabs /S", page)); err != nil {
			return nil, fmt.Errorf("tag page %d of a PDF: %w", page, err)
		}
	}
	u.write(parents, "<</Nums ["+nums.String()+"]>>")
	u.write(root, fmt.Sprintf("<</Type /StructTreeRoot /K [%s] /ParentTree %s /ParentTreeNextKey %d>>", ref(numbers[t.root]), ref(parents), len(t.owners)+1))
	err = u.amend(u.catalog, "/Version /1.7 /MarkInfo <</Marked true>> /ViewerPreferences <</DisplayDocTitle true>> /StructTreeRoot "+ref(root))
	if err != nil {
		return nil, fmt.Errorf("tag a PDF: %w", err)
	}
	return u.finish(), nil
}

// pageObject is the number under which the PDF library writes a page.
func pageObject(page int) int { return 1 + 2*page }

func ref(object int) string { return strconv.Itoa(object) + " 0 R" }

// hexText is a text string as UTF-16 with a byte order mark.
func hexText(text string) string {
	var b strings.Builder
	b.WriteString("<FEFF")
	for _, unit := range utf16.Encode([]rune(text)) {
		fmt.Fprintf(&b, "%04X", unit)
	}
	return b.String() + ">"
}

// update is a file with newer objects behind it.
type update struct {
	file          bytes.Buffer
	offsets       map[int]int // of the newer objects
	old           []int       // offsets of the file's own objects
	next          int         // the next free number
	catalog, info int
	before        int // where the file's own table is
}

func newUpdate(file []byte) (*update, error) {
	u := &update{offsets: map[int]int{}}
	u.file.Write(file)
	tail := file[max(bytes.LastIndex(file, []byte("trailer\n")), 0):]
	for key, to := range map[string]*int{"/Size ": &u.next, "/Root ": &u.catalog, "/Info ": &u.info, "startxref\n": &u.before} {
		n, ok := intAfter(tail, key)
		if !ok {
			return nil, errors.New("no " + strings.TrimSpace(key) + " in the trailer")
		}
		*to = n
	}
	return u, u.readTable(file)
}

// readTable reads the table of the file's objects: lines of 20 bytes that begin with an offset.
func (u *update) readTable(file []byte) error {
	lines := bytes.SplitN(file[min(u.before, len(file)):], []byte("\n"), u.next+3)
	if len(lines) < u.next+2 || string(lines[0]) != "xref" {
		return errors.New("no table of objects")
	}
	u.old = make([]int, u.next)
	for i := range u.old {
		at, err := strconv.Atoi(string(lines[i+2][:min(10, len(lines[i+2]))]))
		if err != nil || at >= len(file) {
			return fmt.Errorf("the table's line for object %d", i)
		}
		u.old[i] = at
	}
	return nil
}

func intAfter(text []byte, key string) (int, bool) {
	_, after, found := bytes.Cut(text, []byte(key))
	end := 0
	for end < len(after) && after[end] >= '0' && after[end] <= '9' {
		end++
	}
	n, err := strconv.Atoi(string(after[:end]))
	return n, found && err == nil
}

func (u *update) reserve() int {
	u.next++
	return u.next - 1
}

func (u *update) number(e *element, numbers map[*element]int) {
	numbers[e] = u.reserve()
	for _, k := range e.kids {
		if k.element != nil {
			u.number(k.element, numbers)
		}
	}
}

func (u *update) write(object int, body string) {
	u.offsets[object] = u.file.Len()
	fmt.Fprintf(&u.file, "%d 0 obj\n%s\nendobj\n", object, body)
}

func (u *update) writeElement(e *element, parent int, numbers map[*element]int) {
	var kids strings.Builder
	for _, k := range e.kids {
		if k.element != nil {
			kids.WriteString(ref(numbers[k.element]) + " ")
			u.writeElement(k.element, numbers[e], numbers)
		} else {
			fmt.Fprintf(&kids, "<</Type /MCR /Pg %s /MCID %d>> ", ref(pageObject(k.page)), k.number)
		}
	}
	alt := ""
	if e.alt != "" {
		alt = " /Alt " + hexText(e.alt)
	}
	u.write(numbers[e], fmt.Sprintf("<</Type /StructElem /S /%s /P %s%s /K [%s]>>", e.role, ref(parent), alt, kids.String()))
}

// amend writes an object of the file anew with further entries of its dictionary.
func (u *update) amend(object int, entries string) error {
	if object <= 0 || object >= len(u.old) {
		return fmt.Errorf("no object %d", object)
	}
	text := u.file.Bytes()[u.old[object]:]
	begin, end := bytes.Index(text, []byte("<<")), bytes.Index(text, []byte("\nendobj"))
	if begin < 0 || end < begin || !bytes.HasSuffix(text[:end], []byte(">>")) {
		return fmt.Errorf("object %d is no dictionary", object)
	}
	u.write(object, string(text[begin:end-2])+"\n"+entries+">>")
	return nil
}

// finish writes the table of the newer objects and the trailer.
func (u *update) finish() []byte {
	at := u.file.Len()
	u.file.WriteString("xref\n")
	for object := range u.next {
		if offset, newer := u.offsets[object]; newer {
			fmt.Fprintf(&u.file, "%d 1\n%010d 00000 n \n", object, offset)
		}
	}
	fmt.Fprintf(&u.file, "trailer\n<<\n/Size %d\n/Root %s\n/Info %s\n/Prev %d\n>>\nstartxref\n%d\n%%%%EOF\n", u.next, ref(u.catalog), ref(u.info), u.before, at)
	return u.file.Bytes()
}
