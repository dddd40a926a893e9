import type { Job } from '../../app/contract/work-calls'
import type { Reading } from '../../app/measure/reading'
import { rational } from '../../app/time/rational'
import { engine } from './engine'
import type { Saving } from './saving'
import type { ShownNow } from './shown'

/// How long nothing changes before findings are asked for anew.
const SETTLING_MS = 250

/// The lists that the engine keeps beside the records of the open project: readings and findings, jobs, takes.
export class ListsRead {
  #asking: ReturnType<typeof setTimeout> | undefined

  constructor(
    private readonly shown: ShownNow,
    private readonly saving: Saving,
  ) {}

  async readAll(): Promise<void> {
    await Promise.all([this.readTakes(), this.#readJobs(), this.#readReadings().then(() => this.#readFindings())])
  }

  hearReadings(changed: readonly Reading[], gone: readonly string[]): void {
    const readings = new Map(this.shown.now.readings)
    for (const reading of changed) readings.set(reading.id, reading)
    for (const id of gone) readings.delete(id)
    this.shown.show({ readings })
    this.findingsMayChange()
  }

  hearJob(job: Job): void {
    this.shown.show({ jobs: [job, ...this.shown.now.jobs.filter(({ id }) => id !== job.id)] })
  }

  /// Asks for the findings once changes pause, and nothing that was typed is still on its way.
  findingsMayChange(): void {
    clearTimeout(this.#asking)
    this.#asking = setTimeout(() => {
      if (this.saving.any) this.findingsMayChange()
      else void this.#readFindings()
    }, SETTLING_MS)
  }

  async readTakes(): Promise<void> {
    const answer = await engine.call('takes.list', {})
    if (!answer.ok) return
    const lengths = answer.value.takes.flatMap((take) =>
      take.state === 'finished' && take.file !== null && take.samples > 0
        ? [[take.file, rational(take.samples, take.sampleRate)] as const]
        : [],
    )
    this.shown.show({ takes: new Map(lengths) })
  }

  async #readReadings(): Promise<void> {
    const answer = await engine.call('readings.list', {})
    if (answer.ok) this.shown.show({ readings: new Map(answer.value.readings.map((reading) => [reading.id, reading])) })
  }

  async #readFindings(): Promise<void> {
    const answer = await engine.call('findings.list', {})
    if (answer.ok && JSON.stringify(answer.value.findings) !== JSON.stringify(this.shown.now.findings))
      this.shown.show({ findings: answer.value.findings })
  }

  async #readJobs(): Promise<void> {
    const answer = await engine.call('jobs.list', {})
    if (answer.ok) this.shown.show({ jobs: answer.value.jobs })
  }
}
