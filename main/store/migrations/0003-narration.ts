/// What is known of a paragraph's narration, as the document has it: words said, when, pauses put in, pace.
export const narration = `
ALTER TABLE paragraph ADD COLUMN narration TEXT;
`
