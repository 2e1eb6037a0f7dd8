"""Opening the cover: what it asks of hands, props, hinges and anchors, shut, opening, propped and thrown open."""
