import { describe, expect, it } from 'vitest'
import { engineClient, type Wire } from '../../../app/contract/client'
import { mediaAddress, stillAddress, takePieceAddress } from '../../../app/contract/addresses'

const answering =
  (body: unknown): Wire =>
  () =>
    Promise.resolve({ json: () => Promise.resolve(body) })

describe('the window’s end of the contract', () => {
  it('posts JSON to the call’s address, relative to the page', async () => {
    const sent: unknown[] = []
    const wire: Wire = (address, request) => {
      sent.push([address, request])
      return Promise.resolve({ json: () => Promise.resolve({ ok: true, value: {} }) })
    }
    expect(await engineClient(wire).call('jobs.cancel', { job: 'j1' })).toEqual({ ok: true, value: {} })
    expect(sent).toEqual([['call/jobs.cancel', { method: 'POST', headers: { 'content-type': 'application/json' }, body: '{"job":"j1"}' }]])
  })

  it('hands refusals on as values', async () => {
    const error = { code: 'not-there', message: 'There is no job j1.', parameters: { what: 'job', id: 'j1' } }
    expect(await engineClient(answering({ ok: false, error })).call('jobs.cancel', { job: 'j1' })).toEqual({ ok: false, error })
  })

  it.each([
    ['a network that fails', (() => Promise.reject(new Error('gone'))) as Wire],
    ['an answer that is no JSON', (() => Promise.resolve({ json: () => Promise.reject(new SyntaxError('x')) })) as Wire],
    ['an answer that is not ours', answering({ hello: 'there' })],
    ['a refusal with a code nobody knows', answering({ ok: false, error: { code: 'made-up', message: 'x', parameters: {} } })],
  ])('never rejects: %s is an engine that is gone', async (_what, wire) => {
    for (const reply of [await engineClient(wire).call('jobs.list', {}), await engineClient(wire).events('e', 0)])
      expect(reply).toMatchObject({ ok: false, error: { code: 'engine-gone' } })
  })

  it('throws where the engine breaks the contract, if told to look', async () => {
    await expect(engineClient(answering({ ok: true, value: { jobs: 3 } }), { checked: true }).call('jobs.list', {})).rejects.toThrow(/jobs/)
  })
})

describe('an address', () => {
  it('is relative, and takes any id', () => {
    expect(mediaAddress('f1')).toBe('media/f1')
    expect(mediaAddress('кадр:1')).toBe('media/%D0%BA%D0%B0%D0%B4%D1%80%3A1')
    expect(stillAddress('f1', 12)).toBe('still/f1/12')
    expect(stillAddress('f1', 12, 96)).toBe('still/f1/12?width=96')
    expect(takePieceAddress('takes/p1.wav', 10)).toBe('takes/takes%2Fp1.wav?offset=10')
  })
})
