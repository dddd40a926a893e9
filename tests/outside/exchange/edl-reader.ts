import { nominalRate, parseTimecode } from '../../../app/time/timecode'
import type { Rational } from '../../../app/time/rational'

/// Reads CMX 3600 edit decision lists as OpenTimelineIO's adapter takes them (its sample files lie beside): event number,
/// reel, track, transition, four timecodes, the outer ones excluded; `M2` with the frames a second at which the source
/// runs, 000.0 a frozen frame; speed = M2 / the list's nominal rate; comments behind their event.

export interface ReadEvent {
  readonly number: number
  readonly reel: string
  readonly track: string
  readonly transition: string
  readonly source: { readonly from: number; readonly to: number }
  readonly record: { readonly from: number; readonly to: number }
  /// Source frames to a record frame; 0: a frozen frame; 1 where nothing is said.
  readonly speed: number
  readonly comments: readonly string[]
}

export interface ReadList {
  readonly title: string
  readonly dropFrame: boolean
  readonly events: readonly ReadEvent[]
}

const EVENT =
  /^(\d{3,6})\s+(\S{1,8})\s+(V|A\d?|AA|NONE|B)\s+(C|D|W\d{3}|KB?|KO)\s+(?:(\d{3})\s+)?(\S{11})\s+(\S{11})\s+(\S{11})\s+(\S{11})\s*$/
const SPEED = /^M2\s+(\S{1,8})\s+(-?\d{3}\.\d)\s+(\S{11})\s*$/

/// Throws for a line that is neither head, event, speed, comment nor blank, and for a timecode that does not exist.
export function readEdl(text: string, rate: Rational): ReadList {
  const frame = (code: string): number => {
    const parsed = parseTimecode(code, rate)
    if (!parsed.ok) throw new Error(`${code}: ${parsed.error.code}`)
    return parsed.value
  }
  let title = ''
  let dropFrame = false
  const events: (ReadEvent & { speed: number; comments: string[] })[] = []
  for (const line of text.split(/\r?\n/).map((each) => each.trim())) {
    const event = EVENT.exec(line)
    const speed = SPEED.exec(line)
    const last = events.at(-1)
    if (event) {
      const [, number, reel, track, transition, , sourceFrom, sourceTo, recordFrom, recordTo] = event as unknown as string[]
      events.push({
        number: Number(number),
        reel: reel!,
        track: track!,
        transition: transition!,
        source: { from: frame(sourceFrom!), to: frame(sourceTo!) },
        record: { from: frame(recordFrom!), to: frame(recordTo!) },
        speed: 1,
        comments: [],
      })
    } else if (speed && last) {
      if (speed[1] !== last.reel) throw new Error(`${line}: the speed is not of ${last.reel}`)
      if (frame(speed[3]!) !== last.source.from) throw new Error(`${line}: the speed does not begin where its event does`)
      last.speed = Number(speed[2]) / nominalRate(rate)
    } else if (line.startsWith('TITLE:')) title = line.slice(6).trim()
    else if (line.startsWith('FCM:')) dropFrame = line.includes('DROP FRAME') && !line.includes('NON-DROP')
    else if (line.startsWith('*') || line.startsWith('FROM CLIP NAME')) last?.comments.push(line.replace(/^\*\s*/, ''))
    else if (line !== '') throw new Error(`what is ${JSON.stringify(line)}?`)
  }
  return { title, dropFrame, events }
}

/// Source frame at a record frame of the event.
export const sourceFrame = (event: ReadEvent, record: number): number =>
  event.source.from + Math.floor((record - event.record.from) * event.speed + 1e-6)
