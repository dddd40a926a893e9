import { z } from 'zod'
import { Breakdown } from '../project/breakdown'

/// The breakdown document's JSON Schema (draft 2020-12), made from the records themselves. What it cannot
/// say (references that must exist, frames that must lie inside their clips, paths that must stay in the
/// folder) `readBreakdown` checks besides.
export function breakdownSchema(): string {
  const schema = z.toJSONSchema(Breakdown, { io: 'input', unrepresentable: 'any' })
  return (
    JSON.stringify(
      {
        title: 'Claimframe breakdown, version 1',
        description:
          'Points are [x, y] in pixels of the upright, square-pixel, unmirrored picture, (0, 0) its top-left corner. Frames are footage frame indices; `from` is included, `to` is not. Fractions are text such as "1/4".',
        ...schema,
      },
      null,
      1,
    ) + '\n'
  )
}
