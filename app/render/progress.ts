/// What ffmpeg says of itself while it runs, read from its `-progress` output: lines of
/// `key=value`, each block closed by `progress=continue` or `progress=end`.

/// One report. `frame` and `out_us` count what has been written so far (`null` where ffmpeg does not
/// know yet: "N/A"); `speed` is a multiple of real time.
export interface Progress {
  readonly frame: number | null
  readonly out_us: number | null
  readonly bytes: number | null
  readonly speed: number | null
  readonly done: boolean
}

/// The unfinished rest of the text between two readings. Start with `emptyProgressText`.
export interface ProgressText {
  readonly line: string
  readonly block: Readonly<Record<string, string>>
}

export const emptyProgressText: ProgressText = { line: '', block: {} }

const number = (text: string | undefined): number | null => {
  if (text === undefined) return null
  const value = Number.parseFloat(text)
  return Number.isFinite(value) ? value : null
}

function reportOf(block: Readonly<Record<string, string>>): Progress {
  return {
    frame: number(block['frame']),
    // `out_time_ms` is in microseconds as well (an old slip that ffmpeg keeps); builds before
    // 2018-07 have it alone.
    out_us: number(block['out_time_us']) ?? number(block['out_time_ms']),
    bytes: number(block['total_size']),
    speed: number(block['speed']),
    done: block['progress'] === 'end',
  }
}

/// Reads the next piece of text, in whatever pieces it arrives. Lines that are not `key=value`
/// (log lines that share the stream) are passed over. Returns the finished reports in order and
/// the rest to hand in again. Never throws.
export function readProgress(rest: ProgressText, text: string): { readonly reports: readonly Progress[]; readonly rest: ProgressText } {
  const reports: Progress[] = []
  const lines = (rest.line + text).split(/\r?\n/)
  const line = lines.pop() ?? ''
  let block: Record<string, string> = { ...rest.block }
  for (const each of lines) {
    const match = /^([a-z_0-9]+)=\s*(.*?)\s*$/.exec(each)
    if (!match) continue
    block[match[1]!] = match[2]!
    if (match[1] !== 'progress') continue
    reports.push(reportOf(block))
    block = {}
  }
  return { reports, rest: { line, block } }
}
