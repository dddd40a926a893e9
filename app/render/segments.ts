import type { LaidShot, Programme } from '../programme/programme'
import { encoderArguments, type Encoding } from './encoding'
import { segmentGraph, type GraphInput, type SourceFacts } from './picture-graph'

/// The film cut into pieces that are encoded apart and joined untouched. A piece is described wholly by
/// data, so that it can be kept, compared, or made on another machine.

export interface SegmentJob {
  /// Place in the film, output frames.
  readonly start: number
  readonly frames: number
  readonly inputs: readonly GraphInput[]
  /// Filter graph; reads `marks.ass` and the folder `fonts` from its working folder when `ass` is set.
  readonly graph: string
  readonly ass: string | null
  /// Encoder arguments, without the output's name.
  readonly encoder: readonly string[]
}

/// Longest piece, in output seconds: short enough that a change re-makes little.
const LONGEST_SECONDS = 10

/// Marks of a shot for ASS; null when nothing is drawn on those frames. Times count from `from`.
export type WriteMarks = (shot: LaidShot, from: number, to: number) => string | null

/// Every piece of output frames [from, to) of the programme, in order. A shot that is longer than ten
/// seconds is cut into equal pieces; a range that begins or ends within a shot cuts it there.
export function segmentJobs(
  programme: Programme,
  options: {
    encoding: Encoding
    fpsMode: boolean
    source: (footage: string) => SourceFacts
    writeMarks: WriteMarks
    from?: number | undefined
    to?: number | undefined
  },
): SegmentJob[] {
  const { encoding, source, writeMarks } = options
  const range = { from: options.from ?? 0, to: options.to ?? programme.frames }
  const longest = Math.round((LONGEST_SECONDS * programme.rate.n) / programme.rate.d)
  const jobs: SegmentJob[] = []
  for (const shot of programme.shots) {
    const begin = Math.max(0, range.from - shot.start)
    const end = Math.min(shot.frames, range.to - shot.start)
    if (end <= begin) continue
    const pieces = Math.ceil(shot.frames / longest)
    for (let piece = 0; piece < pieces; piece++) {
      const from = Math.max(begin, Math.floor((piece * shot.frames) / pieces))
      const to = Math.min(end, Math.floor(((piece + 1) * shot.frames) / pieces))
      if (to <= from) continue
      const ass = writeMarks(shot, from, to)
      const canvas = { width: programme.width, height: programme.height, rate: programme.rate }
      const graph = segmentGraph(shot, from, to, canvas, source, ass === null ? null : { assFile: 'marks.ass', fontsFolder: 'fonts' })
      jobs.push({
        start: shot.start + from,
        frames: to - from,
        inputs: graph.inputs,
        graph: graph.text,
        ass,
        encoder: encoderArguments(encoding, programme.rate, to - from, options.fpsMode),
      })
    }
  }
  return jobs
}
