/// Films that were made of another film's fields.
export const fields = `
ALTER TABLE footage ADD COLUMN fields TEXT;
`
