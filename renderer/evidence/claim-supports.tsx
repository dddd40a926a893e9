import { useMemo, type KeyboardEvent, type ReactNode } from 'react'
import type { ClaimAnswer, ReferenceAnswer } from '../../app/contract/claim-calls'
import type { Breakdown } from '../../app/project/breakdown'
import type { Evidence } from '../../app/project/claim'
import { supportsOf, wantedBehind, withoutSupport, type Support } from '../../app/release/support'
import { recordNames } from '../../app/script/claims/record-names'
import { isStrong } from '../../app/script/claims/suggest-classes'
import { clipName } from '../script/clip-name'
import { goTo } from '../state/place'
import { useShown } from '../state/use-project'
import { EvidencePicture, useLaidStills, type LaidStills } from './evidence-picture'
import { Fact } from './fact'
import { FrameFacts } from './frame-facts'
import { SupportFacts } from './support-facts'
import { nameOf } from './support-name'

interface Props {
  readonly claim: ClaimAnswer
  /// References as they are printed, by id.
  readonly cited: ReadonlyMap<string, ReferenceAnswer>
  readonly readOnly: boolean
  readonly onTakeAway: (change: (before: readonly Evidence[]) => readonly Evidence[]) => void
  /// The keys go back to the sentences.
  readonly onLeave: () => void
}

/// Everything that the sentence in hand rests on: each value, event and frame with its still, when and where it was filmed;
/// each reference with whom it holds for and how far. Up and Down go through the stills, Enter or P goes to the Bench at
/// one, Left goes back. A sentence on nothing says what is missing.
export function ClaimSupports({ claim, cited, readOnly, onTakeAway, onLeave }: Props) {
  const { breakdown, readings } = useShown()
  const { values, cites, evidence } = claim
  const supports = useMemo(
    () => (breakdown ? supportsOf({ values, cites, evidence }, breakdown) : []),
    [breakdown, values, cites, evidence],
  )
  const stills = useMemo(
    () => [...new Map(supports.flatMap((support) => support.stills.map((still) => [still.name, still]))).values()],
    [supports],
  )
  const laid = useLaidStills(stills)
  if (!breakdown) return null
  const names = recordNames(breakdown, readings)
  if (supports.length === 0) return <NothingBehind claim={claim} />
  const onKeyDown = (event: KeyboardEvent<HTMLDivElement>): void => {
    if (!(event.target instanceof HTMLElement) || !event.target.matches('.support-still') || event.ctrlKey || event.metaKey || event.altKey)
      return
    const all = [...event.currentTarget.querySelectorAll<HTMLElement>('.support-still')]
    const by = event.key === 'ArrowDown' ? 1 : event.key === 'ArrowUp' ? -1 : 0
    if (by !== 0) all[all.indexOf(event.target) + by]?.focus()
    else if (event.key === 'ArrowLeft' || event.key === 'Escape') onLeave()
    else if (event.key.toLowerCase() === 'p') event.target.click()
    else return
    event.preventDefault()
    event.stopPropagation()
  }
  return (
    <div className="supports" role="group" aria-label="What stands behind it" onKeyDown={onKeyDown}>
      {supports.map((support) => (
        <SupportBlock
          key={`${support.of}/${support.id}/${JSON.stringify(support.evidence)}`}
          support={support}
          breakdown={breakdown}
          laid={laid}
          cited={cited}
        >
          {support.evidence !== null && (
            <button
              type="button"
              className="text"
              disabled={readOnly}
              aria-label={`take away: ${nameOf(support, names)}`}
              onClick={() => {
                onTakeAway((before) => withoutSupport(before, support))
                // This button goes with what it takes away.
                onLeave()
              }}
            >
              take away
            </button>
          )}
        </SupportBlock>
      ))}
    </div>
  )
}

/// Said aloud only where it holds the film back.
function NothingBehind({ claim: { classes } }: { readonly claim: ClaimAnswer }) {
  const wanted = wantedBehind(classes)
  if (wanted.length === 0) return <p className="quiet">Nothing has to stand behind it.</p>
  if (!isStrong(classes)) return <p className="quiet">It rests on nothing yet, and may go out so. It could rest on {wanted.join('; ')}.</p>
  return (
    <p className="nothing-behind">
      <b>It rests on nothing.</b> Missing: {wanted.join('; ')}.
    </p>
  )
}

interface BlockProps {
  readonly support: Support
  readonly breakdown: Breakdown
  readonly laid: LaidStills | null
  readonly cited: ReadonlyMap<string, ReferenceAnswer>
  readonly children: ReactNode
}

/// One support: what it is, beside each of its stills.
function SupportBlock({ support, breakdown, laid, cited, children }: BlockProps) {
  const { stills } = support
  const what = <SupportFacts support={support} breakdown={breakdown} cited={cited} />
  if (stills.length === 0)
    return (
      <div className="support support-bare">
        <dl className="support-facts">
          {what}
          <Fact name="">{children}</Fact>
        </dl>
      </div>
    )
  return stills.map((still, i) => (
    <div key={still.name} className={i === 0 ? 'support' : 'support support-on'}>
      <button
        type="button"
        className="support-still"
        title="To the Bench at this frame (Enter, P)"
        aria-label={`To the Bench: frame ${still.frame} of ${clipName(breakdown, still.clip)}`}
        onClick={() => goTo({ room: 'Bench', clip: still.clip, frame: still.frame })}
      >
        <EvidencePicture still={still} laid={laid} />
      </button>
      <dl className="support-facts">
        {i === 0 && what}
        <FrameFacts
          still={still}
          breakdown={breakdown}
          support={support}
          film={i === 0}
          end={stills.length < 2 ? null : i === 0 ? 'earliest' : 'latest'}
        />
        {i === 0 && <Fact name="">{children}</Fact>}
      </dl>
    </div>
  ))
}
