import { writeBreakdown } from '../../../app/exchange/breakdown-writing'
import type { Command } from '../command'
import { FINE } from '../exit-status'
import { load } from '../load'
import { onePath } from '../one-path'

export const dump: Command = {
  usage: 'dump <project>',
  summary: "Prints the project's breakdown document.",
  options: {},
  async run(input) {
    const { breakdown } = await load(onePath(input, dump))
    input.print(writeBreakdown(breakdown).trimEnd())
    return FINE
  },
}
