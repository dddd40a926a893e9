/// Characters that turn the direction of all that follows: embeddings, overrides and isolates (Unicode Standard Annex 9,
/// "Explicit Directional Formatting"). With them a line can read as another one.
const DIRECTIONS = /[\u202a-\u202e\u2066-\u2069]/gu

/// Text without them. Letters keep the direction of their own script, and the implicit marks (U+200E, U+200F), which only
/// say on which side a sign or a number stands, stay: captions in scripts from right to left need them.
export const withoutDirections = (text: string): string => text.replace(DIRECTIONS, '')
