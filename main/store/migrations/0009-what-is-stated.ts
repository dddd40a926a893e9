/// What is known of the hall that a clip shows; events that were marked twice.
export const whatIsStated = `
ALTER TABLE clip ADD COLUMN hall TEXT;
ALTER TABLE event ADD COLUMN markings TEXT;
`
