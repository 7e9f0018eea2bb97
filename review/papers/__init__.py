"""World papers: texts that belong to the story's world, such as its songs, letters, maps and rules, with pictures, in
versions, and with notes on their paragraphs."""
