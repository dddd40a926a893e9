import { averageWords, countOf, exactRate, millisecondsWords, rateWords } from './film-figures'
import type { FilmReport } from './film-report'

type Row = readonly [name: string, words: string]

/// The report as a person reads it in a terminal.
export function describeFilm(report: FilmReport): string {
  const { codec, frameTimes, sound } = report
  const rows: readonly Row[] = [
    ['frames', `${report.frames}, 0 to ${report.frames - 1}`],
    ['length', `${report.duration_s.toFixed(3)} s`],
    ['rate', rateOf(report)],
    ...claimOf(report),
    ['one frame', intervalOf(report)],
    ['picture', pictureOf(report)],
    ['fields', fieldsOf(report)],
    ['colour', colourOf(report)],
    ['coding', `${codec}, ${countOf(frameTimes.keyframes, 'keyframe')}, longest group ${frameTimes.longestGroup} frames`],
    ['sound', sound ? `${sound.codec}, ${sound.sampleRate} Hz, ${countOf(sound.channels, 'channel')}` : 'none'],
    ...courseOf(report),
  ]
  const findings = report.findings.map((finding) => `${finding.weight === 'warn' ? '!' : '·'} ${finding.text}`)
  return [
    report.file,
    ...rows.map(([name, value]) => `  ${name.padEnd(12)} ${value}`),
    ...(findings.length ? ['', ...findings.map((line) => `  ${line}`)] : []),
  ].join('\n')
}

const UNEVENNESS = { even: 'variable', gaps: 'with gaps', jitter: 'slightly uneven', variable: 'variable' } as const

function rateOf(report: FilmReport): string {
  const { intervals, rate } = report
  if (!intervals) return 'one frame'
  if (rate === null) return `${averageWords(report)} frames a second on average, ${UNEVENNESS[intervals.kind]}`
  return `${averageWords(report)} frames a second, even${rate.includes('/') ? ` (exactly ${rate})` : ''}`
}

/// What the container claims of the rate, where it claims one.
function claimOf({ containerRate }: FilmReport): Row[] {
  if (!containerRate) return []
  const { claimed, offBy_percent } = containerRate
  const off = Math.abs(offBy_percent) > 0.05 ? ` (off by ${offBy_percent.toFixed(2)} %)` : ''
  return [['file claims', `${rateWords(exactRate(claimed))} frames a second${off}`]]
}

function intervalOf({ intervals, rate }: FilmReport): string {
  if (!intervals) return '-'
  if (rate === null) {
    const { shortest_s, median_s, longest_s } = intervals
    return `${[shortest_s, median_s, longest_s].map(millisecondsWords).join(' – ')} ms (shortest, middle, longest)`
  }
  const { n, d } = exactRate(rate)
  return `${millisecondsWords(d / n)} ms`
}

function pictureOf({ picture: { width, height, rotation, sampleAspect, stored } }: FilmReport): string {
  const turned = rotation ? `, turned ${rotation}° clockwise` : ''
  const oblong = sampleAspect === '1:1' ? '' : `, pixels ${sampleAspect}, stored ${stored.width} × ${stored.height}`
  return `${width} × ${height}${turned}${oblong}`
}

function fieldsOf({ fields: { declared, interlaced } }: FilmReport): string {
  if (interlaced !== null) return interlaced ? 'interlaced' : 'progressive'
  return declared === 'progressive' ? 'progressive by the file, in doubt by the picture' : 'not known'
}

const RANGES = { pc: 'full range', tv: 'limited range' } as const

function colourOf({ colour: { matrix, range, bits, hdr } }: FilmReport): string {
  return `${matrix ?? 'matrix not given'}, ${range === null ? 'range not given' : RANGES[range]}, ${bits} bit${hdr ? ', high dynamic range' : ''}`
}

/// Cuts that are named one by one, at most.
const MOST_CUTS = 12

/// What was seen of repeats, mixes and cuts, where the pictures were looked at.
function courseOf({ pictures }: FilmReport): Row[] {
  if (!pictures) return []
  const { repeats, blends, cuts } = pictures
  const named = cuts.slice(0, MOST_CUTS).map(({ frame, at_s }) => `${frame} (${at_s.toFixed(2)} s)`)
  const more = cuts.length > MOST_CUTS ? [`… ${cuts.length} in all`] : []
  return [
    ['repeats', seenOf(repeats)],
    ['blends', seenOf(blends)],
    ['likely cuts', cuts.length === 0 ? 'none seen' : [...named, ...more].join(', ')],
  ]
}

const seenOf = (frames: readonly number[]): string => (frames.length === 0 ? 'none seen' : String(frames.length))
