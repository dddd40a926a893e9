import type { FilmFacts } from '../../app/contract/footage-calls'
import { engine } from './engine'
import type { ShownNow } from './shown'

/// The films of the open project and their frame times, as the engine tells of them.
export class FilmsRead {
  /// Frame times that are being asked for, by film.
  readonly #asked = new Map<string, Promise<void>>()

  constructor(private readonly shown: ShownNow) {}

  async readAll(): Promise<void> {
    const answer = await engine.call('footage.facts', {})
    if (!answer.ok) return
    this.shown.show({ films: new Map(answer.value.films.map((film) => [film.id, film])) })
    await Promise.all(answer.value.films.filter((film) => film.state === 'ready').map((film) => this.#readTable(film.id)))
  }

  /// There is news of a film.
  hear(film: FilmFacts): void {
    this.shown.show({ films: new Map(this.shown.now.films).set(film.id, film) })
    if (film.state === 'ready') void this.#readTable(film.id)
    else this.#asked.delete(film.id)
  }

  /// The project was left: what was asked for it is of no use to the next.
  leave(): void {
    this.#asked.clear()
  }

  /// Resolves once every film is known, or is being read for the first time, which takes long.
  known(): Promise<void> {
    const known = (): boolean => {
      const { films, tables } = this.shown.now
      return [...films.values()].every(({ id, state, job }) => (state === 'ready' ? tables.has(id) : state !== 'reading' || job !== null))
    }
    return new Promise((done) => {
      const look = (): void => {
        if (!known()) return
        leave()
        done()
      }
      const leave = this.shown.subscribe(look)
      look()
    })
  }

  /// One question at a time for each film: its facts and the news of it ask alike.
  #readTable(footage: string): Promise<void> {
    const asked = this.#asked.get(footage)
    if (asked) return asked
    const answered: Promise<void> = engine.call('footage.table', { footage }).then((answer) => {
      if (this.#asked.get(footage) !== answered) return
      this.#asked.delete(footage)
      if (answer.ok) this.shown.show({ tables: new Map(this.shown.now.tables).set(footage, answer.value) })
    })
    this.#asked.set(footage, answered)
    return answered
  }
}
