import { useState, type KeyboardEvent } from 'react'
import { keptAddress } from '../../app/contract/addresses'
import type { Correction, Release } from '../../app/project/release'
import { useShown } from '../state/use-project'
import { NotAnswered, useAnswer } from './claim-answers'
import { KeptNotes } from './kept-notes'
import { VersionNote } from './version-note'

/// The published versions, newest first. A version never changes; what has become otherwise since is told below it, with
/// every place that said it and a dated note. Up and down go through the versions; Y copies the first note of the one in
/// hand, N goes into its words, P puts it into the description or takes it out.
export function PublishedVersions() {
  const { breakdown, readOnly } = useShown()
  const compared = useAnswer('corrections.due', { date: new Date().toISOString().slice(0, 10) })
  const due = compared.value
  const [hand, setHand] = useState<string | null>(null)
  const [said, setSaid] = useState('')
  const releases = [...(breakdown?.releases ?? [])].reverse()
  if (releases.length === 0) return null
  const at = Math.max(
    0,
    releases.findIndex(({ id }) => id === hand),
  )
  const move = (by: number): void => setHand(releases[Math.max(0, Math.min(releases.length - 1, at + by))]?.id ?? null)
  const onKeyDown = (event: KeyboardEvent<HTMLOListElement>): void => {
    if (event.target instanceof HTMLTextAreaElement || event.ctrlKey || event.metaKey || event.altKey) return
    const note = event.currentTarget.querySelector('[aria-current="true"] .version-note')
    const key = event.key.toLowerCase()
    if (event.key === 'ArrowDown') move(1)
    else if (event.key === 'ArrowUp') move(-1)
    else if (key === 'n' && note) note.querySelector('textarea')?.focus()
    else if (key === 'y' && note) note.querySelector<HTMLButtonElement>('[data-act="copy"]')?.click()
    else if (key === 'p' && note) note.querySelector<HTMLButtonElement>('[data-act="put"]')?.click()
    else return
    event.preventDefault()
  }
  const gone = (due?.unread ?? []).map((id) => breakdown?.footage.find((footage) => footage.id === id)?.file ?? id)
  return (
    <section aria-labelledby="published" className="published">
      <h2 id="published">Published versions</h2>
      <p className="quiet">
        A version that went out never changes. What has changed since is told below it, with every place that said so and a note to put
        beside the film.
      </p>
      {gone.length > 0 && (
        <p className="quiet">
          {gone.join(', ')} {gone.length === 1 ? 'is' : 'are'} not there: what was measured on {gone.length === 1 ? 'it' : 'them'} is
          compared again once {gone.length === 1 ? 'it is' : 'they are'} back.
        </p>
      )}
      <NotAnswered what="What has changed since" of={compared} />
      <KeptNotes />
      <ol className="plain" tabIndex={0} data-versions aria-label="Versions" onKeyDown={onKeyDown}>
        {releases.map((release, i) => {
          const drafted = due?.overtaken.find((each) => each.release === release.id)?.draft ?? null
          const notes = (breakdown?.corrections ?? []).filter((note) => note.release === release.id)
          return (
            <Version
              key={release.id}
              release={release}
              drafted={drafted}
              notes={notes}
              inHand={i === at}
              compared={due !== null ? 'yes' : compared.refused === null ? 'not yet' : 'refused'}
              readOnly={readOnly}
              onTake={() => setHand(release.id)}
              onSaid={setSaid}
            />
          )
        })}
      </ol>
      <p role="status" className="quiet">
        {said}
      </p>
    </section>
  )
}

interface Props {
  readonly release: Release
  readonly drafted: Correction | null
  readonly notes: readonly Correction[]
  readonly inHand: boolean
  readonly compared: 'yes' | 'not yet' | 'refused'
  readonly readOnly: boolean
  readonly onTake: () => void
  readonly onSaid: (words: string) => void
}

/// What has become of a version since it went out: how many things changed, else whether that is known, else its notes.
function sinceWords(since: number, compared: Props['compared'], notes: number): string {
  if (since > 0) return `${since} ${since === 1 ? 'thing has' : 'things have'} changed since`
  if (compared === 'not yet') return 'comparing …'
  if (compared === 'refused') return 'not compared'
  return notes > 0 ? `${notes} ${notes === 1 ? 'note' : 'notes'}` : 'all as it said'
}

function Version({ release, drafted, notes, inHand, compared, readOnly, onTake, onSaid }: Props) {
  const since = drafted?.changes.length ?? 0
  return (
    <li className={inHand ? 'version in-hand' : 'version'} aria-current={inHand ? 'true' : undefined} onClick={inHand ? undefined : onTake}>
      <p className="version-head">
        <b>Version {release.version}</b>
        <span className="figures">{release.date}</span>
        <bdi>{release.film}</bdi>
        <span className="quiet">script version {release.project}</span>
        <span className={since > 0 ? 'open-mark version-since' : 'quiet version-since'}>{sinceWords(since, compared, notes.length)}</span>
      </p>
      {inHand && (
        <>
          <p className="quiet">
            <a href={keptAddress(release.id, 'evidence.html')} target="_blank" rel="noreferrer">
              Its evidence report
            </a>
            , with {release.values.length} {release.values.length === 1 ? 'value' : 'values'} and {release.events.length}{' '}
            {release.events.length === 1 ? 'event' : 'events'} as they stood
          </p>
          {drafted && <VersionNote key={drafted.id} note={drafted} kept={false} release={release} readOnly={readOnly} onSaid={onSaid} />}
          {[...notes].reverse().map((note) => (
            <VersionNote key={note.id} note={note} kept release={release} readOnly={readOnly} onSaid={onSaid} />
          ))}
        </>
      )}
    </li>
  )
}
