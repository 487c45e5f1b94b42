package account

import (
	"net/http"

	"rungbook/internal/words"
	"rungbook/web/kit"
)

// languageField asks for the language of families' pages; chosen is a tag, or "" for what the browser says.
func languageField(b *words.Book, chosen string) kit.ChoiceField {
	f := kit.ChoiceField{Name: "language", Label: b.Say("language.label"), Hint: b.Say("language.hint"), Values: []string{chosen},
		Choices: []kit.Choice{{Value: "", Label: b.Say("language.browser")}}}
	for _, other := range b.Books() {
		f.Choices = append(f.Choices, kit.Choice{Value: other.Lang(), Label: other.Say("language.name"), Lang: other.Lang()})
	}
	return f
}

// ChooseLanguage keeps the language in which one reads families' pages.
func (h *Handler) ChooseLanguage(w http.ResponseWriter, r *http.Request) error {
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	tag := values.Get("language")
	if err := h.app.ChooseLanguage(r.Context(), kit.Actor(r), tag); err != nil {
		return err
	}
	return h.kit.Done(w, r, kit.Words(r).In(tag).Say("language.kept"), "/account")
}
