import type { LaidShot } from '../../app/programme/programme'
import type { Breakdown } from '../../app/project/breakdown'
import type { Paragraph, Shot } from '../../app/project/picture'
import type { Rational } from '../../app/time/rational'
import type { Project } from '../state/project'
import { changeShot, changeShots, moveShot, moveShotTo, newShot, redone, type NextShot, type ShotKind } from './shot-changes'
import { cutInTwo } from './shot-ends'

/// The shot that is seen of a paragraph.
interface Seen {
  readonly breakdown: Breakdown
  readonly row: Paragraph
  /// As it is laid, and as it stands in the paragraph; undefined where the paragraph has none of its own.
  readonly shot: LaidShot | undefined
  readonly own: Shot | undefined
  /// The frame that is seen, counted from the shot's first.
  readonly at: number
  /// Of the film.
  readonly rate: Rational
}

export interface ShotEdits {
  readonly change: (label: string, next: NextShot) => Promise<void>
  /// Behind the shot that is seen; last where none is.
  readonly add: (kind: ShotKind) => void
  /// In two before the frame that is seen.
  readonly cut: () => void
  readonly move: (from: number, to: number) => void
  /// To the paragraph before (−1) or after (1); false where there is none.
  readonly moveTo: (index: number, by: -1 | 1) => boolean
  /// Whether there is a paragraph before or after.
  readonly hasBeside: (by: -1 | 1) => boolean
  readonly remove: (index: number) => void
}

/// What can be done to a paragraph's shots. Each change is of the shot as it was seen: one that has changed since is left alone.
export function shotEdits(project: Project, { breakdown, row, shot, own, at, rate }: Seen, onAdded: () => void): ShotEdits {
  const paragraph = row.id
  const shots = row.shots ?? []
  const paragraphs = breakdown.script.flatMap((each) => ('text' in each ? [each.id] : []))
  const beside = (by: -1 | 1): string | undefined => paragraphs[paragraphs.indexOf(paragraph) + by]
  return {
    async change(label, next) {
      const index = shot?.index ?? -1
      if (index >= 0 && own)
        await project.edit((state) =>
          changeShot(state, paragraph, label, index, own, (now) => [typeof next === 'function' ? next(now) : redone(own, next, now)]),
        )
    },
    add(kind) {
      const made = newShot(kind, breakdown, own)
      const index = shot && shot.index >= 0 ? shot.index + 1 : shots.length
      if (made)
        void project
          .edit((state) => changeShots(state, paragraph, `Add a ${kind}`, (all) => all.toSpliced(index, 0, made)))
          .then((done) => done && onAdded())
    },
    cut() {
      const two = own && shot && cutInTwo(own, shot, at, rate)
      if (two)
        void project.edit((state) =>
          changeShot(state, paragraph, 'Cut the shot in two', shot.index, own, (now) => two.map((half) => redone(own, half, now))),
        )
    },
    move(from, to) {
      const seen = shots[from]
      if (seen && to >= 0 && to < shots.length && from !== to) void project.edit((state) => moveShot(state, paragraph, from, seen, to))
    },
    // What comes from behind goes first there, what comes from before last: the film's order changes as little as it can.
    moveTo(index, by) {
      const [seen, to] = [shots[index], beside(by)]
      if (!seen || to === undefined) return false
      void project.edit((state) => moveShotTo(state, paragraph, index, to, by > 0, seen))
      return true
    },
    hasBeside: (by) => beside(by) !== undefined,
    remove(index) {
      const seen = shots[index]
      if (seen) void project.edit((state) => changeShot(state, paragraph, 'Delete the shot', index, seen, () => []))
    },
  }
}
