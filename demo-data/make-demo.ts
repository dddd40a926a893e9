import { mkdir, readFile, rename, writeFile } from 'node:fs/promises'
import { availableParallelism } from 'node:os'
import { join } from 'node:path'
import { readBreakdown } from '../app/exchange/breakdown-reading'
import { writeBreakdown } from '../app/exchange/breakdown-writing'
import { readingsOf } from '../app/measure/readings'
import { evenFrameTable } from '../app/time/frame-table'
import { rational } from '../app/time/rational'
import { spokenParagraphs, twoRightHands } from './breakdown/two-right-hands'
import { makeFilm } from './film/make-film'
import { films, PAINTING_VERSION, type FilmRecipe } from './film/recipes'
import type { Truth } from './film/truth'
import { makeTakes } from './narration/make-takes'
import { demoFolder } from './place'
import { isMade, markMade, recipeOf } from './stamp'

export interface DemoOptions {
  /// Where everything goes; usually `demo-data/made`.
  readonly folder: string
  /// A line for people: what is being made, and how far it is.
  readonly onProgress?: ((line: string) => void) | undefined
  readonly signal?: AbortSignal | undefined
}

export interface Demo {
  /// The breakdown document's path.
  readonly document: string
  readonly films: readonly string[]
}

/// Makes the demo: films with their truth, narration, and the breakdown that uses them. What is
/// there and made from the same recipe is kept. The same recipe gives the same bytes with the same
/// ffmpeg.
export async function makeDemo(options: DemoOptions): Promise<Demo> {
  const { folder, onProgress, signal } = options
  await mkdir(folder, { recursive: true })
  const capture = join(demoFolder(), 'mocap', 'cmu_13_18_first_15s.bvh.gz')
  const captured = await readFile(capture)
  const stale: { film: FilmRecipe; recipe: string }[] = []
  for (const film of films) {
    const recipe = recipeOf(PAINTING_VERSION, JSON.stringify(film), captured)
    if (!(await isMade(folder, film.name, recipe, [`${film.name}.mp4`, `${film.name}.truth.json`]))) stale.push({ film, recipe })
  }
  const total = stale.reduce((n, { film }) => n + film.frames, 0)
  const painted = new Map<string, number>()
  stale.sort((a, b) => b.film.frames * b.film.samples - a.film.frames * a.film.samples)
  const lane = async (): Promise<void> => {
    for (let next = stale.shift(); next; next = stale.shift()) {
      const { film, recipe } = next
      await makeFilm({
        recipe: film,
        capture,
        folder,
        signal,
        onFrame: (n) => {
          painted.set(film.name, n)
          onProgress?.(`painting the films: frame ${[...painted.values()].reduce((s, v) => s + v, 0)} of ${total}`)
        },
      })
      await markMade(folder, film.name, recipe)
    }
  }
  await Promise.all(Array.from({ length: Math.max(1, Math.min(2, availableParallelism())) }, lane))
  const truths = new Map<string, Truth>()
  for (const film of films) truths.set(film.name, JSON.parse(await readFile(join(folder, `${film.name}.truth.json`), 'utf8')) as Truth)
  const unread = twoRightHands(truths, new Map())
  const readings = readingsOf(unread, (footage) => {
    const film = films.find((f) => `${f.name}.mp4` === unread.footage.find((x) => x.id === footage)?.file)
    return film ? evenFrameTable(film.frames, rational(film.fileRate)) : null
  })
  const takes = await makeTakes({
    folder,
    paragraphs: spokenParagraphs(truths),
    readings: new Map(readings.map((r) => [r.id, r])),
    signal,
    onTake: (done, of) => onProgress?.(`reading the narration aloud: paragraph ${done} of ${of}`),
  })
  const document = join(folder, 'two-right-hands.json')
  const text = writeBreakdown(twoRightHands(truths, takes))
  const read = readBreakdown(text, 'two-right-hands.json')
  if (!read.ok) throw read.error
  await writeFile(`${document}.part`, text)
  await rename(`${document}.part`, document)
  onProgress?.('the demo is ready')
  return { document, films: films.map((f) => join(folder, `${f.name}.mp4`)) }
}
