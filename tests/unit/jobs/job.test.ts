import { describe, expect, it } from 'vitest'
import { CodedError } from '../../../app/errors/coded-error'
import { JobQueue, type JobView } from '../../../main/jobs/job'

function queue(atOnce = 1): { jobs: JobQueue; seen: JobView[] } {
  let n = 0
  const jobs = new JobQueue(() => `j${++n}`, atOnce)
  const seen: JobView[] = []
  jobs.listen((view) => seen.push(view))
  return { jobs, seen }
}

/// Work that lasts until it is let go, and heeds its signal.
function held(): { work: (c: { signal: AbortSignal }) => Promise<string>; release: () => void } {
  let release!: () => void
  const gate = new Promise<void>((resolve) => (release = resolve))
  return {
    release: () => release(),
    work: ({ signal }) =>
      new Promise((resolve, reject) => {
        signal.addEventListener('abort', () => reject(new CodedError('cancelled', { what: 'work' })))
        void gate.then(() => resolve('made'))
      }),
  }
}

describe('JobQueue', () => {
  it('goes from queued through running to done, with progress that never falls', async () => {
    const { jobs, seen } = queue()
    const job = jobs.add('read', async ({ report }) => {
      for (const fraction of [0.2, 0.5, 0.3, Number.NaN, 0.9]) report(fraction)
      return 7
    })
    expect(await job.outcome).toEqual({ state: 'done', value: 7 })
    expect(seen.map((v) => [v.state, v.progress])).toEqual([
      ['queued', 0],
      ['running', 0],
      ['running', 0.2],
      ['running', 0.5],
      ['running', 0.9],
      ['done', 1],
    ])
  })

  it('runs as many at once as allowed, the rest in order of arrival', async () => {
    const { jobs } = queue(2)
    const [a, b, c] = [held(), held(), held()]
    const made = [a, b, c].map((h, i) => jobs.add(`job ${i}`, h!.work))
    await Promise.resolve()
    expect(jobs.list().map((v) => v.state)).toEqual(['running', 'running', 'queued'])
    b!.release()
    await made[1]!.outcome
    await new Promise((r) => setTimeout(r))
    expect(jobs.list().map((v) => v.state)).toEqual(['running', 'done', 'running'])
    a!.release()
    c!.release()
    expect((await Promise.all(made.map((j) => j.outcome))).map((o) => o.state)).toEqual(['done', 'done', 'done'])
  })

  it('cancels a running job and a queued one, which then never starts', async () => {
    const { jobs, seen } = queue()
    const first = jobs.add('long', held().work)
    let started = false
    const second = jobs.add('never', async () => void (started = true))
    await Promise.resolve()
    second.cancel()
    expect(await second.outcome).toEqual({ state: 'cancelled' })
    expect(jobs.cancel(first.id)).toBe(true)
    expect(await first.outcome).toEqual({ state: 'cancelled' })
    expect(started).toBe(false)
    expect(jobs.cancel(first.id)).toBe(false)
    expect(jobs.cancel('unknown')).toBe(false)
    expect(seen.at(-1)).toMatchObject({ id: first.id, state: 'cancelled', error: null })
  })

  it('keeps the error of a failed job by code and message, and goes on with the next', async () => {
    const { jobs } = queue()
    const failing = jobs.add('bad', () => Promise.reject(new CodedError('film-empty', { file: 'a.mp4' })))
    const broken = jobs.add('worse', () => Promise.reject(new TypeError('x is not y')))
    const good = jobs.add('good', () => Promise.resolve(1))
    expect(await failing.outcome).toMatchObject({ state: 'failed', error: { code: 'film-empty' } })
    await broken.outcome
    expect(await good.outcome).toEqual({ state: 'done', value: 1 })
    expect(jobs.view(failing.id)).toMatchObject({ state: 'failed', error: { code: 'film-empty', message: 'a.mp4 holds no frame.' } })
    expect(jobs.view(broken.id)?.error).toEqual({ code: 'unexpected', message: 'x is not y' })
  })

  it('forgets the oldest of many ended jobs, never a living one', async () => {
    const { jobs } = queue(2)
    const living = jobs.add('living', held().work)
    for (let i = 0; i < 130; i++) await jobs.add(`short ${i}`, () => Promise.resolve(i)).outcome
    expect(jobs.list()).toHaveLength(101)
    expect(jobs.view(living.id)?.state).toBe('running')
    jobs.cancelAll()
    expect(await living.outcome).toEqual({ state: 'cancelled' })
  })
})
