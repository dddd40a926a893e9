/// Text as it is drawn: one line, composed (NFC), nothing in it that could turn, hide or break it.
/// Control characters, tabs and line breaks become spaces; direction overrides and isolates (which
/// would let a name reverse a value beside it), zero-width and variation characters go, except the
/// joiners that some scripts spell with; half a surrogate pair becomes U+FFFD; the ends are trimmed.
export function drawnText(text: string): string {
  return text
    .replace(/\p{Cs}/gu, '\ufffd')
    .replace(/[\p{Cc}\u2028\u2029]+/gu, ' ')
    .replace(
      /[\u00ad\u034f\u061c\u115f\u1160\u17b4\u17b5\u180b-\u180f\u200b\u200e\u200f\u202a-\u202e\u2060-\u206f\ufe00-\ufe0f\ufeff\ufff9-\ufffb]|[\u{e0000}-\u{e0fff}]/gu,
      '',
    )
    .normalize('NFC')
    .trim()
}
