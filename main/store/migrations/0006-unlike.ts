/// Films that look like another one and were said not to be the same.
export const unlike = `
ALTER TABLE footage ADD COLUMN unlike TEXT;
`
