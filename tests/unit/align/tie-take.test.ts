import { describe, expect, it } from 'vitest'
import { lastSentence, withTaps } from '../../../app/align/tie-take'
import { ONSET_U, TAPPED_U } from '../../../app/align/take-words'
import type { Paragraph } from '../../../app/project/picture'

const none = new Map()
const paragraph: Paragraph = {
  id: 'p1',
  text: [
    'He ',
    { cue: 'e1', word: 'plants' },
    ' first. Then the ',
    { cue: 'e2', word: 'pelvis' },
    ' turns, and ',
    { cue: 'e3', word: 'contact' },
    ' comes.',
  ],
  take: 'takes/p1-1.wav',
}
const time = (event: string, seconds: number, u: number) => ({ paragraph: 'p1', event, seconds, u })

describe('a key tapped while recording', () => {
  it('places the cues whose words were not found, one tap a cue in the order of the text', () => {
    expect(withTaps(paragraph, none, [], [0.4, 1.9])).toEqual([time('e1', 0.4, TAPPED_U), time('e2', 1.9, TAPPED_U)])
  })
  it('gives way to a word that was found more surely, and counts before one that was found less surely', () => {
    expect(withTaps(paragraph, none, [time('e1', 0.31, ONSET_U.recogniser), time('e3', 3.2, ONSET_U.reference)], [0.4, 1.9, 3.4])).toEqual([
      time('e1', 0.31, ONSET_U.recogniser),
      time('e2', 1.9, TAPPED_U),
      time('e3', 3.4, TAPPED_U),
    ])
  })
  it('changes nothing where none was tapped', () => {
    expect(withTaps(paragraph, none, [time('e2', 2, 0.02)], [])).toEqual([time('e2', 2, 0.02)])
  })
})

describe('the sentence before', () => {
  const words = ['he', 'plants', 'first', 'then', 'the', 'pelvis', 'turns', 'and', 'contact', 'comes']
  const onsets = [0.2, 0.4, 0.8, 1.6, 1.8, 1.9, 2.4, 2.9, 3.1, 3.6]
  it('is heard from a moment before its first word up to what is heard of the take', () => {
    const whole = lastSentence({ ...paragraph, narration: { words, onsets } }, none, 4.5)
    expect(whole.from).toBeCloseTo(1.45, 9)
    expect(whole.to).toBe(4.5)
    expect(lastSentence({ ...paragraph, narration: { words, onsets, trim: { from: 1.55, to: 4.1 } } }, none, 4.5)).toEqual({
      from: 1.55,
      to: 4.1,
    })
  })
  it('is the end of the take where its words are not known, or are no longer the script’s', () => {
    expect(lastSentence(paragraph, none, 20)).toEqual({ from: 16, to: 20 })
    expect(lastSentence({ ...paragraph, narration: { words: words.slice(1), onsets: onsets.slice(1) } }, none, 3)).toEqual({
      from: 0,
      to: 3,
    })
  })
  it('is heard for eight seconds at most', () => {
    expect(lastSentence({ ...paragraph, narration: { words, onsets } }, none, 30)).toEqual({ from: 22, to: 30 })
  })
})
