import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { english } from '../../../../app/script/claims/english/english'
import weights from '../../../../app/script/claims/english/weights.json'
import { CLASSES, THRESHOLD, toldAcross, toldOf, weightsFrom, writers, writtenWeights } from '../../../classes/weights'
import { inShares } from '../../../classes/wilson'

describe('weights that classes are suggested by', () => {
  it('should give each trait one character for each class', () => {
    expect(weights.classes).toBe(CLASSES)
    expect(weights.threshold).toBe(THRESHOLD)
    const written = Object.values(weights.traits).flatMap((names) => Object.values(names))
    expect(written.length).toBeGreaterThan(1000)
    expect(written.filter((each) => !/^[#-[]{13}$/u.test(each))).toEqual([])
  })

  /// `CLAIMFRAME_CLASSES=1` holds the file against all sentences and tells each writer's by what the
  /// others' teach (about half an hour); with `-u` it writes the file anew. Without it, a part is learned twice.
  it('should be what the sentences teach', async () => {
    if (process.env['CLAIMFRAME_CLASSES'] !== undefined) {
      await expect(writtenWeights(weightsFrom(writers(), english, THRESHOLD))).toMatchFileSnapshot(
        join(import.meta.dirname, '../../../../app/script/claims/english/weights.json'),
      )
      const thresholds = [0.4, 0.5, 0.6, THRESHOLD, 0.7, 0.8]
      for (const { name, told } of toldAcross(writers(), english, thresholds)) {
        told.forEach((each, at) => {
          console.log(
            `${name} at ${String(thresholds[at])}: strong found ${inShares(each.found, each.strong)}, wrongly strong ${inShares(each.wrong, each.others)}`,
          )
        })
      }
    }
    const few = writers().map((writer) => ({ ...writer, sentences: writer.sentences.filter((_, at) => at % 24 === 0) }))
    const once = weightsFrom(few, english, THRESHOLD)
    expect(
      writtenWeights(
        weightsFrom(
          few.map((writer) => ({ ...writer })),
          english,
          THRESHOLD,
        ),
      ),
    ).toBe(writtenWeights(once))
    const { found, strong, wrong, others } = toldOf(
      few.flatMap(({ sentences }) => sentences),
      { ...english, weights: once },
    )
    expect(found / strong).toBeGreaterThan(0.9)
    expect(wrong / others).toBeLessThan(0.1)
  }, 7_200_000)
})
