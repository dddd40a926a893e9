import { stillAddress } from '../../app/contract/addresses'
import type { Change } from '../../app/edit/edit'
import { filmTimeText } from '../../app/programme/sentence-time'
import type { Clip, Footage } from '../../app/project/film'
import { saidUnlike, type SharedPictures } from '../../app/project/shared-pictures'
import { secondsAt, type FrameTable } from '../../app/time/frame-table'
import { adding, freeId, updating } from '../state/record-change'
import { useShown } from '../state/use-project'
import { shortName } from './footage-room'

interface Props {
  readonly footage: Footage
  readonly edit: (change: Omit<Change, 'selection'>) => Promise<unknown>
}

/// Earlier films that seem to show what this one shows, each to be judged: the same, and then not to be counted again; or
/// not the same, which is kept.
export function LooksLike({ footage, edit }: Props) {
  const { films, tables, breakdown, state, readOnly } = useShown()
  const shared = films.get(footage.id)?.shared ?? []
  if (!breakdown || !state) return null
  const others = [...new Set([...shared.map((each) => each.footage), ...(footage.unlike ?? [])])].flatMap(
    (id) => breakdown.footage.find((each) => each.id === id) ?? [],
  )
  const say = (other: Footage, unlike: boolean): void => {
    const { unlike: before = [], ...rest } = footage
    const next = unlike ? [...before, other.id] : before.filter((id) => id !== other.id)
    void edit({
      label: unlike ? `Not the same as ${shortName(other.file)}` : `Perhaps the same as ${shortName(other.file)}`,
      steps: [],
      diffs: [updating('footage', footage, next.length > 0 ? { ...rest, unlike: next } : rest)],
    })
  }
  const reject = (other: Footage, stretches: readonly SharedPictures[]): void => {
    const reason = `the same pictures as ${shortName(other.file)}`
    const clips = clipsIn(breakdown.clips, footage.id, stretches).filter(({ use }) => use?.state !== 'rejected')
    const known = clipsIn(breakdown.clips, footage.id, stretches)
    const rejected = { state: 'rejected', reason } as const
    const diffs =
      known.length > 0
        ? clips.map((clip) => updating('clips', clip, { ...clip, use: rejected }))
        : [
            adding(state, 'clips', {
              id: freeId(state, 'clips', 'c'),
              footage: footage.id,
              from: stretches[0]!.from,
              to: stretches[0]!.to,
              capture: 'unknown',
              use: rejected,
            }),
          ]
    void edit({ label: `Reject what ${shortName(other.file)} shows`, steps: [], diffs })
  }
  return others.map((other) => {
    const stretches = shared.filter((each) => each.footage === other.id)
    const name = shortName(other.file)
    if (saidUnlike(breakdown, footage.id, other.id))
      return (
        <p key={other.id} className="quiet">
          Not the same as “{name}”, as you said.{' '}
          {!readOnly && (
            <button type="button" onClick={() => say(other, false)}>
              Perhaps it is
            </button>
          )}
        </p>
      )
    const [longest] = stretches
    if (!longest) return null
    const known = clipsIn(breakdown.clips, footage.id, stretches)
    const rejected = known.length > 0 && known.every(({ use }) => use?.state === 'rejected')
    const middle = (from: number, to: number): number => Math.floor((from + to - 1) / 2)
    return (
      <section key={other.id} className={rejected ? 'looks-like settled' : 'looks-like'} aria-label={`Looks like ${name}`}>
        <div className="looks-like-stills">
          <img
            src={stillAddress(footage.id, middle(longest.from, longest.to), 240)}
            alt={`this film, frame ${middle(longest.from, longest.to)}`}
          />
          <img
            src={stillAddress(other.id, middle(longest.otherFrom, longest.otherTo), 240)}
            alt={`${name}, frame ${middle(longest.otherFrom, longest.otherTo)}`}
          />
        </div>
        <div>
          {stretches.map((each) => (
            <p key={each.from}>
              <span aria-hidden="true">≈ </span>
              Looks like <strong>“{name}”</strong> from {span(tables.get(other.id), each.otherFrom, each.otherTo)}
              {each.mirrored ? ', as in a mirror' : ''}; probably the same pictures, here from{' '}
              {span(tables.get(footage.id), each.from, each.to)}.
            </p>
          ))}
          <p>{rejected ? 'What is cut from it here is rejected, so it counts once.' : 'Counting both would count one bout twice.'}</p>
          {!readOnly && (
            <p className="actions">
              {!rejected && (
                <button type="button" onClick={() => reject(other, stretches)}>
                  {known.length === 0 ? 'Reject it here' : known.length === 1 ? 'Reject its clip' : `Reject its ${known.length} clips`}
                </button>
              )}
              <button type="button" onClick={() => say(other, true)}>
                Not the same
              </button>
            </p>
          )}
        </div>
      </section>
    )
  })
}

/// Clips of which a part lies in one of the stretches.
const clipsIn = (clips: readonly Clip[], footage: string, stretches: readonly SharedPictures[]): readonly Clip[] =>
  clips.filter((clip) => clip.footage === footage && stretches.some(({ from, to }) => clip.from < to && from < clip.to))

/// "0:12 to 0:47"; frames where the times are not read yet.
function span(table: FrameTable | undefined, from: number, to: number): string {
  if (!table) return `frame ${from} to ${to - 1}`
  const first = secondsAt(table, 0)
  return `${filmTimeText(secondsAt(table, from) - first)} to ${filmTimeText(Math.round(secondsAt(table, to) - first))}`
}
