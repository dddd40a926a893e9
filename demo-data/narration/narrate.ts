import { wordsOf, type Readings, type ScriptWord } from '../../app/script/spoken-form'
import type { Paragraph } from '../../app/project/picture'
import type { Wave } from '../sound/wave'
import { levelled, resampled, roomTone, TAKE_RATE } from './polish'
import type { Phone, Speech } from './speech'

/// One paragraph read aloud.

export interface Take {
  readonly wave: Wave
  /// Seconds from the take's start to the onset of each cue's word, by event.
  readonly cues: readonly { readonly event: string; readonly seconds: number }[]
}

const LEAD_IN_S = 0.12
const BETWEEN_SENTENCES_S = 0.42
const TAIL_S = 0.3

/// How words are written for the synthesiser where it would say them wrong.
const SAID: readonly (readonly [RegExp, string])[] = [
  [/\bVarga\b/g, 'Vargha'],
  [/\bSelmane\b/g, 'Selmahn'],
  [/\bNela\b/g, 'Nehla'],
  [/\bRuta\b/g, 'Roota'],
  [/[“”]/g, ''],
  [/[–—]/g, ', '],
  [/:/g, ','],
  [/;/g, ','],
]

const say = (text: string): string => SAID.reduce((t, [from, to]) => t.replace(from, to), text).trim()

/// Reads a paragraph aloud, sentence by sentence; live values as they are spoken.
export async function narrate(paragraph: Paragraph, readings: Readings, speech: Speech, seed: number, signal?: AbortSignal): Promise<Take> {
  const pieces: Float32Array[] = []
  const cues: { event: string; seconds: number }[] = []
  let at = LEAD_IN_S
  for (const sentence of sentences(wordsOf(paragraph, readings))) {
    const text = say(sentence.map((w) => w.spoken).join(' '))
    const said = await speech.say(text, signal)
    const { from, to } = voiced(said.phones)
    const start = Math.max(0, from - 0.03)
    for (const [i, word] of sentence.entries()) {
      if (word.cues.length === 0) continue
      const before =
        i === 0
          ? 0
          : await speech.countSounds(
              say(
                sentence
                  .slice(0, i)
                  .map((w) => w.spoken)
                  .join(' '),
              ),
              signal,
            )
      const onset = onsetOf(said.phones, before) - start + at
      for (const event of word.cues) cues.push({ event, seconds: Math.round(onset * 1000) / 1000 })
    }
    const samples = resampled(said.wave)
    const cut = faded(samples.subarray(Math.round(start * TAKE_RATE), Math.round((to + 0.06) * TAKE_RATE)))
    pieces.push(new Float32Array(Math.round(at * TAKE_RATE) - pieces.reduce((n, p) => n + p.length, 0)), cut)
    at = pieces.reduce((n, p) => n + p.length, 0) / TAKE_RATE + BETWEEN_SENTENCES_S
  }
  pieces.push(new Float32Array(Math.round(TAIL_S * TAKE_RATE)))
  const voice = new Float32Array(pieces.reduce((n, p) => n + p.length, 0))
  let offset = 0
  for (const piece of pieces) {
    voice.set(piece, offset)
    offset += piece.length
  }
  const room = roomTone(voice.length, seed)
  return { wave: { rate: TAKE_RATE, samples: levelled(voice).map((v, i) => v + room[i]!) }, cues }
}

function sentences(words: readonly ScriptWord[]): ScriptWord[][] {
  const out: ScriptWord[][] = [[]]
  for (const word of words) {
    out.at(-1)!.push(word)
    if (/[.?!]["'”’]?$/.test(word.spoken)) out.push([])
  }
  return out.filter((s) => s.some((w) => w.spoken.trim() !== ''))
}

function voiced(phones: readonly Phone[]): { from: number; to: number } {
  const first = phones.findIndex((p) => p.name !== 'pau')
  const last = phones.findLastIndex((p) => p.name !== 'pau')
  return { from: first > 0 ? phones[first - 1]!.end : 0, to: phones[last]?.end ?? 0 }
}

/// When the sound after the first `count` sounds begins, seconds.
function onsetOf(phones: readonly Phone[], count: number): number {
  let seen = 0
  let before = 0
  for (const phone of phones) {
    if (phone.name !== 'pau') {
      if (seen === count) return before
      seen++
    }
    before = phone.end
  }
  return before
}

function faded(samples: Float32Array): Float32Array {
  const out = samples.slice()
  const n = Math.min(720, out.length >> 1)
  for (let i = 0; i < n; i++) {
    out[i]! *= i / n
    out[out.length - 1 - i]! *= i / n
  }
  return out
}
