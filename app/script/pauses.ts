/// Room tone put into a take, so that its words meet their pictures: the take itself is never stretched.

export interface Pause {
  /// Seconds of the take at which it is put in.
  readonly at: number
  readonly seconds: number
}

/// When something at `seconds` of the take is heard, seconds from the start of the paragraph's words. What stands at a
/// pause comes behind it.
export const saidAt = (seconds: number, pauses: readonly Pause[] = []): number => pauses.reduce((sum, pause) => sum + (pause.at <= seconds + 1e-9 ? pause.seconds : 0), seconds)

export const pausedSeconds = (pauses: readonly Pause[] = []): number => pauses.reduce((sum, { seconds }) => sum + seconds, 0)

/// The stretches of a take of `length` seconds between its pauses: from which second of it to which, and when they are heard.
export function takeStretches(length: number, pauses: readonly Pause[] = []): { readonly from: number; readonly to: number; readonly at: number }[] {
  const stretches: { from: number; to: number; at: number }[] = []
  let from = 0
  let waited = 0
  for (const { at, seconds } of pauses) {
    const to = Math.min(at, length)
    if (to > from) stretches.push({ from, to, at: from + waited })
    from = Math.max(from, to)
    waited += seconds
  }
  if (length > from) stretches.push({ from, to: length, at: from + waited })
  return stretches
}
