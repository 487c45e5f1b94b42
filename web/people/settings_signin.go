package people

// signInGroup is what is asked of owners and teachers at sign-in.
func (m *groupMaker) signInGroup() settingsGroup {
	return settingsGroup{Heading: "Signing in", Words: []string{
		"With the tick, every owner and teacher signs in with a code of an authenticator beside the passphrase, or with a passkey. Who has neither yet sets one up at the next page they open, and reaches nothing else until then.",
		"You must have one yourself before you can switch it on. Who has lost both gets a link from an owner, on the person’s page; an owner who is alone is let in by the program’s own command (rungbook owner -lost)."},
		Rows: []settingsRow{{Check: m.tick("guarded", "Owners and teachers need a code or a passkey")}}}
}
