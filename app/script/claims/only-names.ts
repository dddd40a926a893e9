import type { Breakdown } from '../../project/breakdown'

/// Tells words that only name what the project itself names from words that say something of it: "Nela Varga", "Lantern
/// Yard, open evening". Every piece between commas, dots, dashes and line ends stands in the name of a person, a clip, a
/// bout, a technique or a source, word by word. The film's own title is no such name: a title may claim anything.
export function onlyNames({ subjects, clips, footage }: Pick<Breakdown, 'subjects' | 'clips' | 'footage'>): (text: string) => boolean {
  const named = [
    ...subjects.map(({ name }) => name),
    ...clips.flatMap(({ name, bout, technique }) => [name, bout, technique]),
    ...footage.flatMap(({ source }) => [source?.owner, source?.where, source?.when, source?.credit]),
  ].flatMap((name) => (name === undefined ? [] : [` ${wordsOf(name)} `]))
  return (text) => {
    const pieces = text
      .split(/[,;:·|/–—\n]|\.\s|\.$/u)
      .map(wordsOf)
      .filter((piece) => piece !== '')
    return pieces.length > 0 && pieces.every((piece) => named.some((name) => name.includes(` ${piece} `)))
  }
}

const wordsOf = (text: string): string => (text.toLowerCase().match(/[\p{L}\p{N}’'-]+/gu) ?? []).join(' ')
