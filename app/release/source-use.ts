import type { Breakdown } from '../project/breakdown'
import type { Programme } from '../programme/programme'
import { secondsAt, type FrameTable } from '../time/frame-table'
import { toNumber } from '../time/rational'
import { TICKS_PER_SECOND } from '../time/ticks'

/// How a film uses one footage: facts for whoever judges it, no verdict on law.
export interface SourceUse {
  readonly footage: string
  readonly file: string
  readonly owner: string
  readonly where: string
  readonly when: string
  readonly basis: string
  readonly credit: string
  /// Seconds of the film on which it is on screen, and seconds of its own that are shown, each counted once.
  readonly onScreen_s: number
  readonly used_s: number
  /// Whole length of the footage, seconds.
  readonly length_s: number
  /// Share of its time on screen with narration over it, or with values or marks drawn on it, 0–1.
  readonly analysed: number
  /// What a source card lacks, in words.
  readonly missing: readonly string[]
}

/// One entry for each footage that the film shows, in the order of the project.
export function sourceUses(programme: Programme, breakdown: Breakdown, tableOf: (footage: string) => FrameTable): SourceUse[] {
  const rate = toNumber(programme.rate)
  return breakdown.footage.flatMap((footage): SourceUse[] => {
    const shown = new Set<number>()
    let frames = 0
    let analysed = 0
    for (const shot of programme.shots) {
      const panels = shot.panels.filter((panel) => panel.footage === footage.id)
      if (panels.length === 0) continue
      frames += shot.frames
      for (const panel of panels) for (const frame of panel.frames) shown.add(frame)
      analysed += shot.marks.length > 0 ? shot.frames : narrated(programme, shot.start, shot.start + shot.frames)
    }
    if (frames === 0) return []
    const table = tableOf(footage.id)
    const used_s = [...shown].reduce((sum, frame) => sum + secondsAt(table, frame + 1) - secondsAt(table, frame), 0)
    const { owner = '', where = '', when = '', basis = '', credit = '' } = footage.source ?? {}
    const missing = [
      ...(owner === '' && credit === '' ? ['who it belongs to'] : []),
      ...(where === '' ? ['where it is from'] : []),
      ...(basis === '' ? ['on what basis it is used'] : []),
    ]
    return [
      {
        footage: footage.id,
        file: footage.file,
        owner,
        where,
        when,
        basis,
        credit,
        onScreen_s: frames / rate,
        used_s,
        length_s: secondsAt(table, table.pts.length) - secondsAt(table, 0),
        analysed: analysed / frames,
        missing,
      },
    ]
  })
}

/// Output frames of [from, to) over which words are said.
function narrated(programme: Programme, from: number, to: number): number {
  const perFrame = (TICKS_PER_SECOND * programme.rate.d) / programme.rate.n
  let frames = 0
  for (const { words } of programme.paragraphs)
    frames += Math.max(0, Math.min(to, Math.ceil(words.to / perFrame)) - Math.max(from, Math.floor(words.from / perFrame)))
  return Math.min(to - from, frames)
}
