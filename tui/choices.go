package tui

// The pages with a list that digits choose from. An Enter behind digits that are
// no number of the list never reaches them: see onKey.

func (p *cardPage) choices() *list {
	if p.entry.listed() && !p.entry.reason {
		return &p.entry.list
	}
	return nil
}

func (p *choosePage) choices() *list    { return &p.list }
func (p *clearPage) choices() *list     { return &p.list }
func (p *closedPage) choices() *list    { return &p.list }
func (p *findingPage) choices() *list   { return &p.list }
func (p *holdPage) choices() *list      { return &p.list }
func (p *homePage) choices() *list      { return &p.list }
func (p *lastPage) choices() *list      { return &p.list }
func (p *lookPage) choices() *list      { return &p.list }
func (p *lookerPage) choices() *list    { return &p.list }
func (p *looksPage) choices() *list     { return &p.list }
func (p *partPage) choices() *list      { return &p.list }
func (p *safePage) choices() *list      { return &p.list }
func (p *sidePage) choices() *list      { return &p.list }
func (p *whichPage) choices() *list     { return &p.list }
func (p *workplacePage) choices() *list { return &p.list }
func (l *jobList) choices() *list       { return &l.list }
