import { captureFactor } from '../../app/measure/capture-factor'
import type { MeasureContext } from '../../app/measure/context'
import { reasons } from '../../app/measure/reason'
import { captureWords } from '../../app/project/capture-words'
import type { Clip } from '../../app/project/film'

const REFUSED = 'times, speeds and rates are refused'

/// What is known of how fast a clip plays, and what is lost where that is not known: as it is stated, or as the events that it shares
/// with another clip give it.
export function speedWords(clip: Clip, context: MeasureContext): string {
  if (clip.capture === 'unknown') return `Not known: ${REFUSED}.`
  const { link } = clip.capture
  const said = captureWords(clip.capture)
  const words = `${said.slice(0, 1).toUpperCase()}${said.slice(1)}`
  if (!link) return `${words}.`
  const other = context.clip(link.shared)
  const by = `linked by events to ${other?.name ?? link.shared}`
  const found = captureFactor(context, clip)
  return found.ok
    ? `${words}, ${by}.`
    : `${by.slice(0, 1).toUpperCase()}${by.slice(1)}, which gives no speed, ${reasons[found.error].wording}: ${REFUSED}.`
}
