import { SET_BY_HAND_U, type TakeWords } from '../../app/align/take-words'
import { settingsOf, type ProjectState } from '../../app/edit/project-state'
import { cueTimeDiffs, paragraphDiff, takeDiffs, type ChosenTake } from '../../app/edit/take-change'
import { cueShots, type CueShots } from '../../app/programme/cue-shots'
import type { Breakdown } from '../../app/project/breakdown'
import { exact } from '../../app/project/fields'
import type { Paragraph, Shot } from '../../app/project/picture'
import { ownRate } from '../../app/programme/own-rate'
import { heardSeconds, type Trim } from '../../app/script/pauses'
import { cueSeconds, speakingTime } from '../../app/script/speaking-time'
import type { Readings } from '../../app/script/spoken-form'
import { toNumber, type Rational } from '../../app/time/rational'
import type { FrameTable } from '../../app/time/frame-table'
import type { EditChange } from '../state/project'
import { updating } from '../state/record-change'

/// What the Narration room does to the project, each as one edit.

/// Makes takes their paragraphs' own, with their words and the times of their cues.
export const chooseTakes =
  (chosen: readonly ChosenTake[], readings: Readings) =>
  (state: ProjectState): EditChange => ({
    label: chosen.length === 1 ? 'Choose the take' : 'Choose the takes',
    steps: [],
    diffs: takeDiffs(state, chosen, readings),
  })

/// Makes a recording of the room's quiet what fills the film's gaps.
export const chooseRoomTone =
  (file: string) =>
  (state: ProjectState): EditChange => {
    const before = settingsOf(state)
    return {
      label: 'Choose the room tone',
      steps: [],
      diffs: [updating('settings', before, { ...before, sound: { ...before.sound, roomTone: file } })],
    }
  }

/// What stands for a take's words where they could not be looked for.
export const unheard = (words: readonly string[] | null): TakeWords => ({
  by: 'reference',
  words: (words ?? []).map((word) => ({ word, piece: -1, onset: null, u: 0 })),
  leftOut: [],
  repeated: [],
  other: false,
})

/// Makes a take that was talked over the picture the paragraph's own, and what was seen meanwhile its pictures, as one
/// edit. What was put into an earlier take, and the pace at which pictures followed its words, fall away.
export const chooseTalkOver =
  (paragraph: Paragraph, file: string, found: TakeWords, readings: Readings, shots: readonly Shot[]) =>
  (state: ProjectState): EditChange => ({
    label: 'Talk over the picture',
    steps: [],
    diffs: takeDiffs(state, [{ paragraph, file, found, shots }], readings),
  })

/// Puts a cue's word where a person heard it; `u`: how exactly, seconds (1 σ).
export const placeCue =
  (paragraph: string, event: string, seconds: number, u = SET_BY_HAND_U) =>
  (state: ProjectState): EditChange => ({
    label: 'Place the word',
    steps: [],
    diffs: cueTimeDiffs(state, [{ paragraph, event, seconds: Math.max(0, seconds), u }]),
  })

export interface Solving {
  readonly breakdown: Breakdown
  readonly paragraph: Paragraph
  readonly readings: Readings
  /// The take's length; null: by estimate.
  readonly take: Rational | null
  readonly tables: ReadonlyMap<string, FrameTable>
  readonly pace: string
}

/// The shots that bring the paragraph's pictures to its words; null where there is nothing to bring.
export function solvedShots({ breakdown, paragraph, readings, take, tables, pace }: Solving): CueShots | null {
  const whole = { ...paragraph, narration: { ...paragraph.narration, pauses: undefined } }
  const sound = take ? toNumber(take) : undefined
  const trim = take ? paragraph.narration?.trim : undefined
  const { rate } = ownRate(breakdown.script, readings)
  const cues = paragraph.text.flatMap((piece) => {
    if (typeof piece === 'string' || !('cue' in piece)) return []
    const seconds = cueSeconds(whole as Paragraph, piece.cue, readings, { cueTimes: breakdown.cueTimes, sound, rate })
    return seconds === null ? [] : [{ event: piece.cue, word: piece.word, seconds }]
  })
  const known = cues.filter(({ event }) =>
    breakdown.events?.some(
      (each) => each.id === event && breakdown.clips.some((clip) => clip.id === each.clip && tables.has(clip.footage)),
    ),
  )
  const solved = cueShots({
    breakdown,
    paragraph,
    cues: known,
    words: sound !== undefined ? heardSeconds(sound, trim) : speakingTime(paragraph, readings, rate).sound,
    breath: 0.4,
    pace: exact(pace),
    table: (footage) => tables.get(footage) as FrameTable,
  })
  // Solved in seconds of what is heard; pauses are kept in seconds of the take.
  return solved && trim ? { ...solved, pauses: solved.pauses.map((pause) => ({ ...pause, at: pause.at + trim.from })) } : solved
}

/// Moves an end of what is heard of the take, of `seconds`; the other stays where it is by then. Null: all of it is heard.
/// Words and cues keep their samples; pictures that follow the words follow them to where they are heard now.
export const trimTake =
  (solving: Solving, ends: Partial<Trim> | null, seconds: number) =>
  (state: ProjectState): EditChange | null => {
    const before = state.tables.paragraphs.get(solving.paragraph.id)
    if (!before) return null
    const { trim: old, ...narration } = before.narration ?? {}
    const { from, to } = { from: 0, to: seconds, ...(ends ? { ...old, ...ends } : {}) }
    if (from >= Math.min(to, seconds)) return null
    const trim = from < 0.005 && to > seconds - 0.005 ? null : { from: thousandths(from), to: thousandths(Math.min(to, seconds)) }
    if (old?.from === trim?.from && old?.to === trim?.to) return null
    const trimmed = { ...narration, ...(trim ? { trim } : {}) }
    const solved =
      narration.pace === undefined
        ? null
        : solvedShots({ ...solving, paragraph: { ...solving.paragraph, narration: trimmed }, pace: narration.pace })
    const { pauses: _pauses, ...unpaused } = trimmed
    const followed = solved
      ? { shots: [...solved.shots], narration: { ...unpaused, ...(solved.pauses.length > 0 ? { pauses: [...solved.pauses] } : {}) } }
      : { narration: trimmed }
    const { narration: _narration, ...rest } = before
    const empty = Object.keys(followed.narration).length === 0
    return { label: 'Trim the take', steps: [], diffs: [paragraphDiff(state, empty ? rest : { ...rest, ...followed })] }
  }

const thousandths = (seconds: number): number => Math.round(seconds * 1000) / 1000

export const bringPictures =
  (solving: Solving) =>
  (state: ProjectState): EditChange | null => {
    const solved = solvedShots(solving)
    if (!solved) return null
    const before = state.tables.paragraphs.get(solving.paragraph.id) ?? { id: solving.paragraph.id }
    const { pauses: _before, ...narration } = before.narration ?? {}
    return {
      label: 'Bring the pictures to the words',
      steps: [],
      diffs: [
        paragraphDiff(state, {
          ...before,
          shots: [...solved.shots],
          narration: { ...narration, pace: solving.pace, ...(solved.pauses.length > 0 ? { pauses: [...solved.pauses] } : {}) },
        }),
      ],
    }
  }
