/// A cue as its conflicts name it.
interface Said {
  readonly cue: { readonly word: string }
}

/// What could not be kept as wished, and the ways out of it.
export interface CueConflict {
  readonly code: 'backwards' | 'paused' | 'faster' | 'short-hold' | 'other-pictures' | 'same-frame'
  /// The words between which it is.
  readonly words: readonly string[]
  readonly problem: string
  readonly ways: readonly string[]
}

export const otherPictures = (): CueConflict => ({
  code: 'other-pictures',
  words: [],
  problem: 'pairs and cards between the pictures were taken out: they cannot follow cues',
  ways: ['give them a paragraph of their own', 'undo, and set the pictures by hand'],
})

/// `b` is left untied.
export const leftUntied = (code: 'backwards' | 'same-frame', a: Said, b: Said, why: string): CueConflict => ({
  code,
  words: [a.cue.word, b.cue.word],
  problem: `“${a.cue.word}” and “${b.cue.word}” ${why}: the picture does not follow “${b.cue.word}”`,
  ways: [
    'say them in the order of the film',
    `give “${b.cue.word}” a paragraph of its own, with its own run`,
    `take the tie from “${b.cue.word}”`,
  ],
})

/// The film between them takes `film` seconds at full speed, the words `words`; `tone` seconds of room tone were put in.
export const pausedBetween = (a: Said, b: Said, film: number, words: number, tone: number): CueConflict => ({
  code: 'paused',
  words: [a.cue.word, b.cue.word],
  problem: `from “${a.cue.word}” to “${b.cue.word}” the film takes ${film.toFixed(2)} s at full speed and the words ${words.toFixed(2)} s: ${tone.toFixed(2)} s of room tone were put in before “${b.cue.word}”`,
  ways: [`say “${b.cue.word}” later`, `take the tie from “${b.cue.word}”`, 'cut to another picture between them'],
})

/// It runs at `speed` times full speed; said `later` seconds later, `b` would let it run as wished.
export const fasterBetween = (a: Said, b: Said, speed: number, later: number): CueConflict => ({
  code: 'faster',
  words: [a.cue.word, b.cue.word],
  problem: `from “${a.cue.word}” to “${b.cue.word}” it runs at ${speed.toFixed(2)} of full speed, faster than wished`,
  ways: [`say “${b.cue.word}” ${Math.max(0, later).toFixed(1)} s later`, 'wish for a faster pace', `take the tie from “${b.cue.word}”`],
})

/// The hold at `a` lasts `seconds`.
export const shortHold = (a: Said, b: Said, seconds: number): CueConflict => ({
  code: 'short-hold',
  words: [a.cue.word, b.cue.word],
  problem: `“${a.cue.word}” stands for only ${seconds.toFixed(2)} s`,
  ways: [`say “${b.cue.word}” later`, 'wish for a slower pace'],
})
