/// Text of people's on its way into other formats: shown as text everywhere, never obeyed.

/// Control characters, and marks that turn the direction of what follows, which could make a line look like another one.
/// A line keeps its own direction: letters of any script stay.
const UNSEEN = /[\p{Cc}\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069\u2028\u2029\ufeff]+/gu

/// One line without control characters.
export const oneLine = (text: string): string => text.replace(UNSEEN, ' ').replace(/ {2,}/g, ' ').trim()

/// Lines of a text, each clean.
export const cleanLines = (text: string): string[] => text.split(/\r\n|[\n\r\u2028\u2029]/).map(oneLine)

/// Text inside an HTML element or a quoted attribute.
export const htmlText = (text: string): string =>
  text
    .replace(/[\p{Cc}\u2028\u2029]/gu, ' ')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    .replaceAll("'", '&#39;')
    // Shown by name, so that they turn nothing round.
    .replace(
      /[\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]/g,
      (mark) => `&#x2395;<span class="unseen">U+${(mark.codePointAt(0) ?? 0).toString(16).toUpperCase()}</span>`,
    )
