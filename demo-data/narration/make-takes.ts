import { mkdir, readFile, rename, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { spokenTokens } from '../../app/align/spoken-tokens'
import type { Paragraph } from '../../app/project/picture'
import { wordsOf, type Readings } from '../../app/script/spoken-form'
import { isMade, markMade, recipeOf } from '../stamp'
import { writeWave } from '../sound/wave'
import { narrate } from './narrate'
import { roomTone, TAKE_RATE } from './polish'
import { Speech, VOICE } from './speech'

/// A take as the breakdown needs it; `file` is beside the breakdown.
export interface TakeFacts {
  readonly file: string
  readonly seconds: number
  /// Seconds from the take's start to the onset of each cue's word.
  readonly cues: readonly { readonly event: string; readonly seconds: number }[]
  /// What it says, as a take that is recorded in the window keeps it.
  readonly words: readonly string[]
}

export interface TakeMaking {
  /// The breakdown's folder; takes go into `takes` in it.
  readonly folder: string
  readonly paragraphs: readonly Paragraph[]
  readonly readings: Readings
  readonly onTake?: ((done: number, of: number) => void) | undefined
  readonly signal?: AbortSignal | undefined
}

/// Raised whenever reading aloud itself changes.
const NARRATION_VERSION = '1'
const ROOM_TONE_S = 30

/// Reads every paragraph that has words, and records the room. Takes whose words are unchanged are kept.
export async function makeTakes({ folder, paragraphs, readings, onTake, signal }: TakeMaking): Promise<Map<string, TakeFacts>> {
  const takes = join(folder, 'takes')
  await mkdir(takes, { recursive: true })
  const spoken = paragraphs.filter((p) => p.text.length > 0)
  const facts = new Map<string, TakeFacts>()
  let speech: Speech | null = null
  try {
    for (const [i, paragraph] of spoken.entries()) {
      const { id } = paragraph
      const words = wordsOf(paragraph, readings)
      const recipe = recipeOf(NARRATION_VERSION, VOICE.join(' '), JSON.stringify(words.map((w) => [w.spoken, w.cues])))
      if (!(await isMade(takes, id, recipe, [`${id}.wav`, `${id}.json`]))) {
        speech ??= await Speech.open()
        const take = await narrate(paragraph, readings, speech, i + 1, signal)
        const fact: Omit<TakeFacts, 'words'> = { file: `takes/${id}.wav`, seconds: take.wave.samples.length / TAKE_RATE, cues: take.cues }
        await keep(takes, `${id}.wav`, writeWave(take.wave))
        await keep(takes, `${id}.json`, JSON.stringify(fact))
        await markMade(takes, id, recipe)
      }
      const fact = JSON.parse(await readFile(join(takes, `${id}.json`), 'utf8')) as Omit<TakeFacts, 'words'>
      facts.set(id, { ...fact, words: spokenTokens(paragraph, readings).map(({ word }) => word) })
      onTake?.(i + 1, spoken.length)
    }
  } finally {
    await speech?.close()
  }
  const room = recipeOf(NARRATION_VERSION, String(ROOM_TONE_S))
  if (!(await isMade(takes, 'room-tone', room, ['room-tone.wav']))) {
    await keep(takes, 'room-tone.wav', writeWave({ rate: TAKE_RATE, samples: roomTone(ROOM_TONE_S * TAKE_RATE, 99) }))
    await markMade(takes, 'room-tone', room)
  }
  return facts
}

async function keep(folder: string, name: string, content: Buffer | string): Promise<void> {
  const file = join(folder, name)
  await writeFile(`${file}.part`, content)
  await rename(`${file}.part`, file)
}
