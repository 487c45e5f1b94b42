package family

// What the tests of languages draw by itself.
var (
	HomePage     = homePage
	ChildPage    = childPage
	MessagesPage = messagesPage
	DataPage     = dataPage
	CopyPage     = copyPage
	NewModel     = newChildModel
)
