import { whatGoes, type Goes, type TakenAway } from '../../app/edit/take-away'
import type { Breakdown } from '../../app/project/breakdown'
import type { Readings } from '../../app/script/spoken-form'
import { Dialog } from '../sheets/dialog'
import { goTo } from '../state/place'
import { useProject, useShown } from '../state/use-project'
import { remove } from './removal'

interface Props {
  readonly goes: Goes
  readonly name: string
  readonly onClose: () => void
}

/// So many words that name it are read out; of the rest, how many there are.
const READ_OUT = 8

/// Asks before a film, a clip or an event goes with what hangs on it; says what that is, and which words will show that it
/// is gone. While a shot shows it, says where, and takes nothing.
export function TakeAway({ goes, name, onClose }: Props) {
  const project = useProject()
  const { breakdown, readings } = useShown()
  if (!breakdown) return null
  const what = whatGoes(breakdown, readings, goes)
  const go = (paragraph: string): void => {
    onClose()
    goTo({ room: 'Script', paragraph })
  }
  if (what.shownIn.length > 0)
    return (
      <Dialog title={`${name} is shown in the film`} onClose={onClose}>
        <p>
          Shots show it in these paragraphs. Delete them there first, or show something else in them; then it can go.
          {goes.table === 'events' ? '' : ' A clip that is only not to be counted can be stated as rejected instead.'}
        </p>
        <ul className="plain going">
          {what.shownIn.map((id) => (
            <li key={id}>
              <button type="button" className="link" onClick={() => go(id)}>
                {opening(breakdown, id)}
              </button>
            </li>
          ))}
        </ul>
      </Dialog>
    )
  const more = what.uses.length - READ_OUT
  return (
    <Dialog title={`Remove ${name}?`} onClose={onClose}>
      {goes.table === 'footage' && <p>The file itself stays where it is.</p>}
      {goingWords(what, breakdown, readings).length > 0 && (
        <>
          <p>With it goes what hangs on it:</p>
          <ul className="going">
            {goingWords(what, breakdown, readings).map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
        </>
      )}
      {what.uses.length > 0 && (
        <>
          <p>These words name it. They stay, and show that it is gone:</p>
          <ul className="going">
            {what.uses.slice(0, READ_OUT).map(({ as, place, words }) => (
              <li key={`${as} ${place} ${words}`}>{words || 'a label on the picture'}</li>
            ))}
            {more > 0 && <li>and {more} more</li>}
          </ul>
        </>
      )}
      <p className="quiet">Undo brings all of it back.</p>
      <p className="actions">
        <button
          type="button"
          className="main-action"
          onClick={() => {
            remove(project, goes, name)
            onClose()
          }}
        >
          Remove it
        </button>
        <button type="button" onClick={onClose}>
          Leave it
        </button>
      </p>
    </Dialog>
  )
}

/// Whether it can go without a question: nothing hangs on it, nothing names or shows it.
export function goesAlone(breakdown: Breakdown, readings: Readings, goes: Goes): boolean {
  const what = whatGoes(breakdown, readings, goes)
  return (
    what.shownIn.length === 0 &&
    what.uses.length === 0 &&
    goingWords({ ...what, clips: goes.table === 'footage' ? what.clips : [] }, breakdown, readings).length === 0
  )
}

const several = (count: number, one: string, many: string): string => `${count} ${count === 1 ? one : many}`
const named = (count: number, one: string, many: string, names: readonly string[]): string =>
  `${several(count, one, many)}: ${names.join(', ')}`

function goingWords(
  { clips, events, views, points, placings, measures, counts, links }: TakenAway,
  { clips: all }: Breakdown,
  readings: Readings,
): string[] {
  const clipName = (id: string): string => all.find((clip) => clip.id === id)?.name ?? id
  return [
    ...(clips.length > 1
      ? [
          named(
            clips.length,
            'clip',
            'clips',
            clips.map(({ id }) => clipName(id)),
          ),
        ]
      : []),
    ...(placings > 0 ? [`${several(points, 'point', 'points')}, ${several(placings, 'placing', 'placings')}`] : []),
    ...(views > 0 ? [several(views, 'view', 'views')] : []),
    ...(events.length > 0
      ? [
          named(
            events.length,
            'event',
            'events',
            events.map(({ name }) => name),
          ),
        ]
      : []),
    ...(measures.length > 0
      ? [
          named(
            measures.length,
            'measure',
            'measures',
            measures.map(({ id, label }) => readings.get(id)?.plate.what || label || id),
          ),
        ]
      : []),
    ...counts.map(({ id, label }) => `its case in the count “${readings.get(id)?.plate.what || label || id}”`),
    ...links.map(({ id }) => `what the speed of ${clipName(id)} was found from; the speed itself stays`),
  ]
}

/// A paragraph by its first words.
function opening({ script }: Breakdown, id: string): string {
  const row = script.find((each) => 'id' in each && each.id === id)
  const words =
    row && 'text' in row ? row.text.map((piece) => (typeof piece === 'string' ? piece : 'cue' in piece ? piece.word : '')).join('') : ''
  return words.trim() === '' ? 'a paragraph without words' : words.length > 80 ? `${words.slice(0, 80)} …` : words
}
