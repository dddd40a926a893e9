import type { KeyboardEvent } from 'react'
import { filmTimeText } from '../../app/programme/sentence-time'
import type { Release, Said } from '../../app/project/release'
import type { Use } from '../../app/release/where-used'
import { recordNames } from '../../app/script/claims/record-names'
import { saidParagraph } from '../../app/release/said-paragraph'
import { goTo } from '../state/place'
import { useShown } from '../state/use-project'

/// Places of the film, each a button that goes there: up and down go through them, Enter goes.

interface Row {
  readonly at: string
  readonly kind: string
  readonly words: string
  readonly note: string
  /// Null: it is nowhere in the project any more.
  readonly go: (() => void) | null
}

const KINDS: Readonly<Record<Use['as'] | Said['as'], string>> = {
  sentence: 'sentence',
  caption: 'caption',
  take: 'take',
  label: 'label',
  card: 'card',
  shot: 'picture',
  evidence: 'rests on it',
  measure: 'measure',
  name: 'name',
  chapter: 'chapter',
  title: 'title',
  description: 'description',
}

/// Uses in the film as it stands.
export function UsePlaces({ uses, label }: { readonly uses: readonly Use[]; readonly label: string }) {
  const { breakdown, readings } = useShown()
  const names = breakdown ? recordNames(breakdown, readings) : null
  const rows = uses.map((use): Row => {
    const measure = use.as === 'measure' ? breakdown?.measures?.[Number(/\d+/.exec(use.place)?.[0])] : undefined
    const go =
      use.as === 'measure'
        ? (): void =>
            goTo({
              room: 'Bench',
              ...(measure?.clip === undefined ? {} : { clip: measure.clip, frame: 'frame' in measure ? measure.frame : null }),
            })
        : (): void =>
            goTo(
              use.as === 'take'
                ? { room: 'Narration', paragraph: use.paragraph }
                : { room: 'Script', ...(use.paragraph === '' ? {} : { paragraph: use.paragraph }) },
            )
    return {
      at: '',
      kind: KINDS[use.as],
      words: use.as === 'take' ? `${use.place}: ${use.words}` : use.words,
      note: use.through === undefined ? '' : `by ${names?.measure(use.through) ?? use.through}`,
      go,
    }
  })
  return <Places rows={rows} label={label} />
}

/// What a published version said, in the order of the film; each goes to where its words are today.
export function SaidPlaces({
  said,
  release,
  label,
}: {
  readonly said: readonly Said[]
  readonly release: Release
  readonly label: string
}) {
  const { breakdown } = useShown()
  const there = new Set(breakdown?.script.flatMap((row) => ('text' in row ? [row.id] : [])))
  const rows = [...said]
    .sort((a, b) => (a.from_s ?? 0) - (b.from_s ?? 0))
    .map((each): Row => {
      const paragraph = saidParagraph(each, release)
      const gone = paragraph === null || !there.has(paragraph)
      return {
        at: each.from_s === undefined ? '' : filmTimeText(each.from_s),
        kind: KINDS[each.as],
        words: each.as === 'take' ? `${each.take ?? ''}: ${each.words}` : each.words,
        note: gone ? 'not in the script any more' : '',
        go: gone ? null : (): void => goTo({ room: each.as === 'take' ? 'Narration' : 'Script', paragraph }),
      }
    })
  return <Places rows={rows} label={label} />
}

function Places({ rows, label }: { readonly rows: readonly Row[]; readonly label: string }) {
  const onKeyDown = (event: KeyboardEvent<HTMLOListElement>): void => {
    const by = event.key === 'ArrowDown' ? 1 : event.key === 'ArrowUp' ? -1 : 0
    if (by === 0) return
    const buttons = [...event.currentTarget.querySelectorAll<HTMLButtonElement>('button:enabled')]
    const next = buttons[buttons.findIndex((button) => button === document.activeElement) + by]
    if (!next) return
    next.focus()
    event.preventDefault()
    event.stopPropagation()
  }
  if (rows.length === 0) return null
  const timed = rows.some(({ at }) => at !== '')
  return (
    <ol className={timed ? 'plain places' : 'plain places untimed'} aria-label={label} onKeyDown={onKeyDown}>
      {rows.map((row, i) => (
        <li key={i}>
          <button type="button" className="place" disabled={row.go === null} onClick={() => row.go?.()}>
            {timed && <span className="quiet figures">{row.at}</span>}
            <span className="quiet">{row.kind}</span>
            <span className="place-words">
              <bdi>{row.words}</bdi>
              {row.note && <span className="quiet"> {row.note}</span>}
            </span>
          </button>
        </li>
      ))}
    </ol>
  )
}
