/// Words of refused edits, beyond the window that holds them: a reload, or the window's being closed, does not lose them. Two
/// windows share what is here, so each changes only what is its own to change.

const NAME = 'kept words'

export function storedWords(): readonly string[] {
  try {
    const stored: unknown = JSON.parse(localStorage.getItem(NAME) ?? '[]')
    return Array.isArray(stored) ? stored.filter((each) => typeof each === 'string') : []
  } catch {
    return []
  }
}

export const storeWords = (words: string): void => write([...storedWords(), words])

/// Lets one of those that read the same go.
export function unstoreWords(words: string): void {
  const stored = storedWords()
  const at = stored.indexOf(words)
  if (at >= 0) write(stored.toSpliced(at, 1))
}

/// Storage may be closed to the page, or full; the words then last as long as the window.
function write(words: readonly string[]): void {
  try {
    if (words.length === 0) localStorage.removeItem(NAME)
    else localStorage.setItem(NAME, JSON.stringify(words))
  } catch {
    return
  }
}
