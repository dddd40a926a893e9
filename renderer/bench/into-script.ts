import { Transform } from 'prosemirror-transform'
import type { Change } from '../../app/edit/edit'
import type { ProjectState } from '../../app/edit/project-state'
import type { CurveCard } from '../../app/project/picture'
import type { StepJson } from '../../app/script/script-json'
import { scriptSchema } from '../../app/script/schema'
import type { EditChange } from '../state/project'
import { changeShots } from '../script/shot-changes'
import { paragraphInHand } from './paragraph-in-hand'

/// The change that puts a measure's live value at the end of a paragraph (the last one when it is not there); null in a
/// script without paragraphs.
export function intoScript(state: ProjectState, paragraph: string | null, measure: string): Omit<Change, 'selection'> | null {
  const at = paragraphInHand(state, paragraph)
  if (!at) return null
  const transform = new Transform(state.script)
  const value = scriptSchema.nodes.value.create({ measure, form: null })
  const space = at.words === '' || at.words.endsWith(' ') ? [] : [scriptSchema.text(' ')]
  transform.insert(at.end, [...space, value])
  return { label: 'Put in a value', steps: transform.steps.map((step) => step.toJSON() as StepJson), diffs: [] }
}

/// The change that puts a measure's curve behind the shots of a paragraph (of the last one when it is not there), as a card;
/// null in a script without paragraphs, and where the card stands there already.
export function intoFilm(state: ProjectState, paragraph: string | null, card: CurveCard): EditChange | null {
  const at = paragraphInHand(state, paragraph)
  return (
    at &&
    changeShots(state, at.id, 'Put the curve into the film', (shots) =>
      shots.some(
        (shot) =>
          'card' in shot && shot.card === 'curve' && shot.measure === card.measure && shot.beside === card.beside && shot.on === card.on,
      )
        ? shots
        : [...shots, card],
    )
  )
}
