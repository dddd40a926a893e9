/// Words that a project vouches for, whatever a word list says.
export const vocabulary = `
ALTER TABLE project ADD COLUMN vocabulary TEXT;
`
