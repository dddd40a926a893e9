/// A text's words as they are said, one after another; letters of other scripts and signs are left out.
export const plainWords = (text: string): string[] =>
  text
    .toLowerCase()
    .normalize('NFD')
    .replaceAll('’', "'")
    .replace(/[łø]/gu, (letter) => (letter === 'ł' ? 'l' : 'o'))
    .replace(/\p{M}/gu, '')
    .split(/[^a-z']+/u)
    .map((word) => word.replace(/^'+|'+$/gu, ''))
    .filter((word) => word !== '')
