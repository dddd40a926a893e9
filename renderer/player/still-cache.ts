/// Exact frames that were asked for lately, decoded. The oldest are let go beyond the budget.

const BUDGET_BYTES = 400e6
const kept = new Map<string, { readonly still: Promise<ImageBitmap | null>; bytes: number }>()

/// The picture at an address; null when it cannot be had.
export function keptStill(address: string): Promise<ImageBitmap | null> {
  const known = kept.get(address)
  if (known) {
    kept.delete(address)
    kept.set(address, known)
    return known.still
  }
  const entry = { still: read(address), bytes: 0 }
  kept.set(address, entry)
  void entry.still.then((still) => {
    if (!still) return void kept.delete(address)
    entry.bytes = still.width * still.height * 4
    letGo()
  })
  return entry.still
}

async function read(address: string): Promise<ImageBitmap | null> {
  try {
    const answer = await fetch(address)
    return answer.ok ? await createImageBitmap(await answer.blob()) : null
  } catch {
    return null
  }
}

function letGo(): void {
  let total = 0
  for (const { bytes } of kept.values()) total += bytes
  for (const [address, { still, bytes }] of kept) {
    if (total <= BUDGET_BYTES) return
    kept.delete(address)
    total -= bytes
    void still.then((picture) => picture?.close())
  }
}
