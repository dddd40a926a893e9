/// Names of files beside a document. They are relative, use `/`, and stay inside its folder on
/// every system the document may travel to.

const DEVICE = /^(con|prn|aux|nul|com[0-9¹²³]|lpt[0-9¹²³]|conin\$|conout\$)[ ]*(\..*)?$/i

/// Why `file` may not be named by a document; null when it may. Looks at the text alone: links on
/// disk that lead out are for whoever opens the file to refuse.
/// Spaces, quotes, percent signs, leading dashes and a colon after the second character are
/// ordinary in file names and are let through. Device names: Windows' reserved names (Microsoft,
/// "Naming Files, Paths, and Namespaces").
export function problemOfFileName(file: string): string | null {
  if (file === '') return 'is empty'
  if (/[\p{Cc}\u2028\u2029]/u.test(file)) return 'holds a control character'
  if (file.includes('\\')) return 'holds a backslash; folders are parted by /'
  if (file.startsWith('/') || /^[A-Za-z]:/.test(file)) return 'is not relative to the document’s folder'
  if (/^[A-Za-z][A-Za-z0-9+.-]*:\/\//.test(file)) return 'is an address, not a file beside the document'
  let depth = 0
  for (const part of file.split('/')) {
    if (part === '' || part === '.') continue
    if (part === '..') {
      if (--depth < 0) return 'lies outside the document’s folder'
      continue
    }
    if (DEVICE.test(part)) return `names a device (${part})`
    if (/[. ]$/.test(part)) return 'has a part that ends in a dot or a space'
    depth++
  }
  return depth === 0 || file.endsWith('/') ? 'names no file' : null
}
