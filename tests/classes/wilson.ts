/// Wilson's interval of a share, 95 % (Wilson 1927, J Am Stat Assoc 22:209–212; formula from memory).
export function wilson(hits: number, of: number): { readonly share: number; readonly low: number; readonly high: number } {
  const z = 1.959964
  const p = hits / of
  const middle = (p + (z * z) / (2 * of)) / (1 + (z * z) / of)
  const half = (z / (1 + (z * z) / of)) * Math.sqrt((p * (1 - p)) / of + (z * z) / (4 * of * of))
  return { share: p, low: Math.max(0, middle - half), high: middle + half }
}

const percent = (share: number): string => `${(share * 100).toFixed(1)} %`

/// "161/197 = 81.7 % (75.7 %–86.5 %)"
export function inShares(hits: number, of: number): string {
  const { share, low, high } = wilson(hits, of)
  return `${hits}/${of} = ${percent(share)} (${percent(low)}–${percent(high)})`
}
