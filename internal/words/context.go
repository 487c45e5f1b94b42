package words

import "context"

type bookKey struct{}

// With gives a request its Book.
func With(ctx context.Context, b *Book) context.Context { return context.WithValue(ctx, bookKey{}, b) }

// Of is the Book of a request; nil, which speaks English, where it has none.
func Of(ctx context.Context) *Book {
	b, _ := ctx.Value(bookKey{}).(*Book)
	return b
}

// Chosen reports whether a request has a Book of its own.
func Chosen(ctx context.Context) bool { return Of(ctx) != nil }
