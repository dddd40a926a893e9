import { exact } from '../project/fields'
import type { Clip } from '../project/film'
import { ok, refused, type Result } from '../result'
import { toNumber } from '../time/rational'
import { bracketU, timeBracket, type Bracket } from './bracket'
import type { MeasureContext } from './context'
import { merged, uncertaintyOf, type Effect } from './effect'
import type { ReasonCode } from './reason'

/// A clip's capture factor as measures use it: k = file duration / real duration.
export interface CaptureFactor {
  readonly k: number
  /// 1 σ of k.
  readonly u: number
  /// What moves ln k: shares of k for one σ of each source.
  readonly effects: readonly Effect[]
  readonly warnings: readonly ReasonCode[]
}

/// A factor known to no better than this is warned of.
const UNCERTAIN_SHARE = 0.2
/// Links that are followed from clip to clip; a ring of links ends here.
const LONGEST_CHAIN = 8

/// Refused while the factor is unknown, and where a link does not give one: times, speeds and rates
/// are then refused. A linked factor is taken from the shared events: k = k_live·T'/T,
/// (u_k/k)² = (u_T'/T')² + (u_T/T)² + (u_live/k_live)² (docs/measurement.md).
export function captureFactor(context: MeasureContext, clip: Clip, chain = 0): Result<CaptureFactor, ReasonCode> {
  if (clip.capture === 'unknown') return refused('capture-unknown')
  const { factor, u, link } = clip.capture
  if (!link) {
    const k = toNumber(exact(factor))
    return ok({
      k,
      u,
      effects: [{ key: `capture:${clip.id}`, part: 'capture factor', shift: [u / k] }],
      warnings: u / k > UNCERTAIN_SHARE ? ['capture-uncertain'] : [],
    })
  }
  const found = sharedMoments(context, clip, link, chain)
  if (!found.ok) return found
  const { moments, base } = found.value
  const whole = ratio(moments[0]!, moments[moments.length - 1]!)
  if (!whole) return refused('capture-link-broken')
  if (isRamped(moments)) return refused('capture-ramped')
  const effects = merged([...whole.effects, ...base.effects])
  const share = uncertaintyOf(effects)
  const warnings: ReasonCode[] = [...base.warnings]
  if (moments.length < 3) warnings.push('ramp-untested')
  if (share > UNCERTAIN_SHARE) warnings.push('capture-uncertain')
  const k = base.k * whole.k
  return ok({ k, u: k * share, effects, warnings })
}

/// A linked clip between two neighbouring shared events: how fast that part alone runs.
export interface LinkStretch {
  /// Ids of the clip's own two events.
  readonly from: string
  readonly to: string
  readonly k: number
  /// 1 σ of k.
  readonly u: number
}

/// What the ramp test looks at: the factor of each part of a linked clip, in the order of time. Empty for a clip that is not
/// linked, and where a part is not longer than nothing; refused as `captureFactor` is, a ramp apart.
export function linkStretches(context: MeasureContext, clip: Clip): Result<readonly LinkStretch[], ReasonCode> {
  const link = clip.capture === 'unknown' ? undefined : clip.capture.link
  if (!link) return ok([])
  const found = sharedMoments(context, clip, link, 0)
  if (!found.ok) return found
  const { moments, base } = found.value
  return ok(
    moments.slice(1).flatMap((to, i) => {
      const from = moments[i]!
      const part = ratio(from, to)
      if (!part) return []
      const k = base.k * part.k
      return [{ from: from.here.id, to: to.here.id, k, u: k * uncertaintyOf(merged([...part.effects, ...base.effects])) }]
    }),
  )
}

type Link = NonNullable<Exclude<Clip['capture'], 'unknown'>['link']>
interface SharedMoment {
  readonly here: Moment
  readonly there: Moment
}

/// The shared events of a link in the order of time, and the factor of the clip that it leads to.
function sharedMoments(
  context: MeasureContext,
  clip: Clip,
  link: Link,
  chain: number,
): Result<{ readonly moments: readonly SharedMoment[]; readonly base: CaptureFactor }, ReasonCode> {
  const live = context.clip(link.shared)
  const [here, there] = [context.table(clip), live && context.table(live)]
  if (!live || live.id === clip.id || chain >= LONGEST_CHAIN) return refused('capture-link-broken')
  if (!here || !there) return refused('film-not-read')
  const base = captureFactor(context, live, chain + 1)
  if (!base.ok) return base.error === 'capture-unknown' ? refused('capture-link-broken') : base

  const moments: SharedMoment[] = []
  for (const [a, b] of link.pairs) {
    const [ours, theirs] = [context.event(a), context.event(b)]
    if (ours?.clip !== clip.id || theirs?.clip !== live.id) return refused('capture-link-broken')
    if (ours.earliest > ours.latest || theirs.earliest > theirs.latest) return refused('event-reversed')
    if (ours.latest >= here.pts.length || theirs.latest >= there.pts.length) return refused('outside-film')
    moments.push({ here: { id: a, at: timeBracket(ours, here) }, there: { id: b, at: timeBracket(theirs, there) } })
  }
  moments.sort((a, b) => a.there.at.middle - b.there.at.middle)
  return ok({ moments, base: base.value })
}

interface Moment {
  readonly id: string
  readonly at: Bracket
}

/// Ratio of the two spans between two shared moments, with what moves its logarithm. Null where a
/// span is not longer than nothing.
function ratio(a: SharedMoment, b: SharedMoment): { k: number; effects: Effect[] } | null {
  const [T, t] = [b.here.at.middle - a.here.at.middle, b.there.at.middle - a.there.at.middle]
  if (!(T > 0) || !(t > 0)) return null
  const effect = (m: Moment, share: number): Effect => ({ key: `event:${m.id}`, part: 'capture factor', shift: [bracketU(m.at) * share] })
  return { k: T / t, effects: [effect(a.here, -1 / T), effect(b.here, 1 / T), effect(a.there, 1 / t), effect(b.there, -1 / t)] }
}

/// Whether two disjoint parts of the replay run at speeds further apart than 2 u.
function isRamped(moments: readonly SharedMoment[]): boolean {
  const parts = moments.slice(1).map((m, i) => ratio(moments[i]!, m))
  for (let i = 0; i < parts.length; i++)
    for (let j = i + 1; j < parts.length; j++) {
      const [a, b] = [parts[i], parts[j]]
      if (!a || !b) return true
      const difference = Math.log(a.k / b.k)
      if (
        Math.abs(difference) >
        2 * uncertaintyOf(merged([...a.effects, ...b.effects.map((e) => ({ ...e, shift: e.shift.map((s) => -s) }))]))
      )
        return true
    }
  return false
}
