import { formatRational, type Rational } from '../time/rational'

const GLYPHS: Readonly<Record<string, string>> = {
  '1/2': '½',
  '1/4': '¼',
  '3/4': '¾',
  '1/8': '⅛',
  '3/8': '⅜',
  '5/8': '⅝',
  '1/3': '⅓',
  '2/3': '⅔',
}

/// "¼", "1/5", "2×": a speed as people write it.
export function speedText(speed: Rational): string {
  const text = formatRational(speed)
  return GLYPHS[text] ?? (speed.d === 1 ? `${text}×` : text)
}

/// What stands on the picture while it runs at `speed` times real time; null for real time.
/// A replay whose rate is unknown says so, since its true speed cannot be told.
export function speedBadge(speed: Rational, captureKnown: boolean): string | null {
  if (!captureKnown) return 'speed not known'
  return speed.n === speed.d ? null : `${speedText(speed)} speed`
}
