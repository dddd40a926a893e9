import { placeOf, sayPoint, sideOf, sideWord, type Side } from './landmark-name'

/// Lines between two body points that have a name of their own.

const ALONG: Readonly<Record<string, string>> = {
  'hip knee': 'thigh',
  'ankle knee': 'shin',
  'elbow shoulder': 'upper arm',
  'elbow wrist': 'forearm',
  'elbow fist': 'forearm',
  'heel toe': 'foot',
  'hip shoulder': 'trunk side',
}

const ACROSS: Readonly<Record<string, string>> = {
  hip: 'hip line',
  shoulder: 'shoulder line',
  knee: 'knee line',
  ankle: 'stance line',
  heel: 'stance line',
  toe: 'stance line',
  eye: 'eye line',
}

/// A line in words: "trunk", "rear thigh", "shoulder line", "line from chin to rear fist".
export function sayLine(from: string, to: string, lead: Side | null): string {
  const [a, b] = [placeOf(from), placeOf(to)]
  const [sideA, sideB] = [sideOf(from), sideOf(to)]
  if (sideA === 'mid' && sideB === 'mid' && [a, b].sort().join(' ') === 'hip shoulder') return 'trunk'
  if (a === b && sideA !== sideB && sideA !== 'mid' && sideB !== 'mid') {
    const across = ACROSS[a]
    if (across) return across
  }
  if (sideA !== null && sideA === sideB && sideA !== 'mid') {
    const along = ALONG[[a, b].sort().join(' ')]
    if (along) return `${sideWord(from, lead)} ${along}`
  }
  return `line from ${sayPoint(from, lead)} to ${sayPoint(to, lead)}`
}
