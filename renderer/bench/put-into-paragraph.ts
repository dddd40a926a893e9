import { curveFigure, LEAST_POINTS } from '../../app/marks/curve-figure'
import type { MeasureContext } from '../../app/measure/context'
import { overlayOf } from '../../app/measure/curve-beside'
import type { CurveCard } from '../../app/project/picture'
import type { Project } from '../state/project'
import { intoFilm, intoScript } from './into-script'
import { beginningOf, paragraphInHand } from './paragraph-in-hand'

/// What the Bench hands to the script, and what is said of it. `paragraph`: the one in hand, or the script's last.

const NO_PARAGRAPH = 'The script has no paragraph yet.'

/// A measure's live value, at the end of the paragraph's words.
export function putValue(project: Project, paragraph: string | null, measure: string | null): string {
  const { state, readOnly } = project.shown()
  if (measure === null || readOnly) return 'Choose a value first.'
  const at = state && paragraphInHand(state, paragraph)
  if (!at) return NO_PARAGRAPH
  void project.edit((now) => intoScript(now, paragraph, measure))
  return `It stands at the end of ${beginningOf(at)}.`
}

/// A measure's curve, as a card behind the paragraph's pictures. `over`: whose curve lies over it, and on which event.
export function putCurve(
  project: Project,
  paragraph: string | null,
  measure: string | null,
  over: { readonly beside: string; readonly on: string },
  context: MeasureContext | null,
): string {
  const { state, readings, readOnly } = project.shown()
  const asked = measure === null ? null : context?.measure(measure)
  if (!asked || !context || readOnly) return 'Choose a measure first.'
  if (!curveFigure(asked, context, readings.get(asked.id))) return `It has no curve: it has a value on fewer than ${LEAST_POINTS} frames.`
  const at = state && paragraphInHand(state, paragraph)
  if (!at) return NO_PARAGRAPH
  const overlay = overlayOf(asked, over, context)
  const card: CurveCard = { card: 'curve', measure: asked.id, ...(overlay ? { beside: overlay.measure.id, on: overlay.on } : {}) }
  if (!intoFilm(state, paragraph, card)) return `The curve is a picture of ${beginningOf(at)} already.`
  void project.edit((now) => intoFilm(now, paragraph, card))
  return `The curve stands behind the pictures of ${beginningOf(at)}.`
}
