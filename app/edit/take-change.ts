import { cueTimesOf, narrationOf, withTaps } from '../align/tie-take'
import type { TakeWords } from '../align/take-words'
import type { CueTime, Paragraph, Shot } from '../project/picture'
import type { Readings } from '../script/spoken-form'
import type { RecordDiff } from './edit'
import type { ProjectState } from './project-state'
import type { ParagraphRecord } from './records'

/// A take to become its paragraph's own.
export interface ChosenTake {
  readonly paragraph: Paragraph
  /// Name beside the project.
  readonly file: string
  readonly found: TakeWords
  /// What was seen while it was talked over the picture: these become the paragraph's shots.
  readonly shots?: readonly Shot[]
  /// When a key was tapped while it was recorded, seconds of the take: one tap a cue, in the text's order.
  readonly taps?: readonly number[] | undefined
}

/// Makes takes their paragraphs' own, with their words and the times of their cues. Cues whose word was not heard lose the
/// time that they had in the take before. Where a take brings its own shots, the pace at which others followed its words falls
/// away.
export function takeDiffs(state: ProjectState, chosen: readonly ChosenTake[], readings: Readings): RecordDiff[] {
  const times = chosen.flatMap(({ paragraph, found, taps = [] }) =>
    withTaps(paragraph, readings, cueTimesOf(paragraph, readings, found), taps),
  )
  const known = new Set(times.map(timeKey))
  const gone = chosen.flatMap(({ paragraph }) =>
    state.tables.cueTimes.list().filter((time) => time.paragraph === paragraph.id && !known.has(timeKey(time))),
  )
  return [
    ...chosen.map(({ paragraph, file, found, shots }) => {
      const before = state.tables.paragraphs.get(paragraph.id) ?? { id: paragraph.id }
      const narration = narrationOf(found, before.narration)
      if (!shots) return paragraphDiff(state, { ...before, take: file, narration })
      const { pace: _pace, ...talked } = narration
      return paragraphDiff(state, { ...before, take: file, narration: talked, shots: [...shots] })
    }),
    ...cueTimeDiffs(state, times, gone),
  ]
}

export function paragraphDiff(state: ProjectState, to: ParagraphRecord): RecordDiff {
  const from = state.tables.paragraphs.get(to.id)
  return from
    ? { table: 'paragraphs', key: to.id, change: 'updated', from, to }
    : { table: 'paragraphs', key: to.id, change: 'added', record: to, after: null }
}

const timeKey = (time: Pick<CueTime, 'paragraph' | 'event'>): string => `${time.paragraph}/${time.event}`

/// Takes times away, then puts times in; new ones stand at the table's end.
export function cueTimeDiffs(state: ProjectState, times: readonly CueTime[], gone: readonly CueTime[] = []): RecordDiff[] {
  const keys = [...state.tables.cueTimes.keys]
  const removed = gone.map((record): RecordDiff => {
    const at = keys.indexOf(timeKey(record))
    const after = keys[at - 1] ?? null
    keys.splice(at, 1)
    return { table: 'cueTimes', key: timeKey(record), change: 'removed', record, after }
  })
  const placed = times.flatMap((time): RecordDiff[] => {
    const key = timeKey(time)
    const from = state.tables.cueTimes.get(key)
    if (from)
      return from.seconds === time.seconds && from.u === time.u ? [] : [{ table: 'cueTimes', key, change: 'updated', from, to: time }]
    const after = keys.at(-1) ?? null
    keys.push(key)
    return [{ table: 'cueTimes', key, change: 'added', record: time, after }]
  })
  return [...removed, ...placed]
}
