/// What the values of a claim read when it was confirmed; the paragraph of an override that is on no words.
export const claimValues = `
ALTER TABLE claim ADD COLUMN plate_values TEXT;
ALTER TABLE override ADD COLUMN paragraph TEXT;
`
