/// Headings of the script may hold live values. They lie within the script document, so no table changes; the new number
/// alone keeps programs away that would not know them.
export const headingValues = `SELECT 1;`
