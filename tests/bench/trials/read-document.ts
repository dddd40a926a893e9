import { readFile, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { readBreakdown } from '../../../app/exchange/breakdown-reading'
import { writeBreakdown } from '../../../app/exchange/breakdown-writing'
import type { Breakdown } from '../../../app/project/breakdown'
import type { Comparison } from '../comparison'

const joints = ['shoulder.left', 'elbow.left', 'wrist.left', 'hip.left', 'knee.left', 'ankle.left']

/// 200 paragraphs (or as many as asked), three shots to two of them, 2,000 measures, six points followed through 2,000 frames.
export function largeBreakdown(paragraphs = 200): Breakdown {
  const frames = Array.from({ length: 2000 }, (_, frame) => frame)
  return {
    format: 'claimframe-breakdown',
    version: 1,
    title: 'A long evening',
    output: { width: 1920, height: 1080, rate: '60/1' },
    footage: [{ id: 'f1', file: 'bout.mp4' }],
    subjects: [{ id: 's1', name: 'Nela Varga' }],
    clips: [{ id: 'c1', footage: 'f1', from: 0, to: 2000, capture: { factor: '1', u: 0 } }],
    landmarks: joints.map((point, at) => ({
      clip: 'c1',
      subject: 's1',
      point,
      samples: frames.map((frame) => ({ frame, at: [100 * at + frame / 7, 400 + 50 * Math.sin(frame / 30)], sigma: 4 })),
    })),
    measures: frames.map((frame) => ({
      id: `m${frame}`,
      kind: 'joint-angle',
      clip: 'c1',
      subject: 's1',
      frame,
      points: ['hip.left', 'knee.left', 'ankle.left'],
    })),
    script: Array.from({ length: paragraphs }, (_, at) => ({
      id: `p${at}`,
      text: ['The lead knee is at ', { value: `m${at}` }, ', and the weight has gone over it.'],
      shots: [
        { run: 'c1', from: at, to: at + 60, speed: '1/4' },
        ...(at % 2 === 0 ? [{ hold: 'c1', at: at + 60, seconds: '2', marks: [`m${at + 60}`] }] : []),
      ],
    })),
  }
}

export const readDocument: Comparison = {
  name: 'read-document',
  question:
    'Reading and checking a breakdown of 200 paragraphs, 300 shots, 2,000 measures and 12,000 samples, against parsing its JSON alone.',
  rounds: 7,
  async prepare(folder) {
    await writeFile(join(folder, 'breakdown.json'), writeBreakdown(largeBreakdown()))
  },
  contenders: [
    {
      name: 'JSON.parse alone',
      async run(folder) {
        const text = await readFile(join(folder, 'breakdown.json'), 'utf8')
        JSON.parse(text)
        return { 'document, MB': text.length / 1e6 }
      },
    },
    {
      name: 'readBreakdown',
      wanted: { milliseconds: 500 },
      async run(folder) {
        const read = readBreakdown(await readFile(join(folder, 'breakdown.json'), 'utf8'), 'breakdown.json')
        if (!read.ok) throw read.error
        return undefined
      },
    },
  ],
}
