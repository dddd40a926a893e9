/// A version keeps its references as they were printed and its clips' names; what a value was built on, when a still's frame
/// stands in its file and where a footage came from lie within lists that it had.
export const whatVersionsRestOn = `
ALTER TABLE release ADD COLUMN said_references TEXT;
ALTER TABLE release ADD COLUMN clips TEXT;
`
