import { existsSync } from 'node:fs'
import { rename, rm, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { Worker } from 'node:worker_threads'
import { findFfmpeg } from '../../main/media/find-ffmpeg'
import { runFfmpeg } from '../../main/media/process'
import { hallSound } from '../sound/hall-sound'
import { writeWave } from '../sound/wave'
import { FilmPainting } from './film-painting'
import type { FilmNews, FilmWork } from './film-worker'
import type { FilmRecipe } from './recipes'
import type { Truth } from './truth'

export interface FilmMaking {
  readonly recipe: FilmRecipe
  /// The capture's file, and the folder that the film goes to.
  readonly capture: string
  readonly folder: string
  readonly onFrame?: (done: number) => void
  readonly signal?: AbortSignal | undefined
}

/// Makes `<name>.mp4` and `<name>.truth.json`. Neither is there under its name before it is whole.
export async function makeFilm(making: FilmMaking): Promise<void> {
  const { recipe, folder, signal } = making
  const tool = await findFfmpeg()
  const silent = join(folder, `${recipe.name}.silent.mp4.part`)
  const sound = join(folder, `${recipe.name}.wav.part`)
  const whole = join(folder, `${recipe.name}.mp4.part`)
  const source = threaded(making) ?? inPlace(making)
  try {
    await runFfmpeg(tool, pictureArguments(recipe, silent), { stdin: source.frames(), signal, what: recipe.name })
    const truth = await source.truth()
    const live = recipe.captureRate === recipe.fileRate
    if (live)
      await writeFile(
        sound,
        writeWave(hallSound(recipe.frames / recipe.fileRate, [{ at: truth.contact.seconds, level: 0.6 }], recipe.bout.look.hall.seed)),
      )
    await runFfmpeg(tool, joinArguments(silent, live ? sound : null, whole), { signal, what: recipe.name })
    await writeFile(join(folder, `${recipe.name}.truth.json.part`), JSON.stringify(truth))
    await rename(join(folder, `${recipe.name}.truth.json.part`), join(folder, `${recipe.name}.truth.json`))
    await rename(whole, join(folder, `${recipe.name}.mp4`))
  } finally {
    await source.close()
    for (const part of [silent, sound, whole]) await rm(part, { force: true })
  }
}

const EXACT = ['-fflags', '+bitexact', '-flags:v', '+bitexact', '-flags:a', '+bitexact', '-map_metadata', '-1'] as const
const COLOUR = ['-color_primaries', 'bt709', '-color_trc', 'bt709', '-colorspace', 'bt709', '-color_range', 'tv'] as const

function pictureArguments({ camera, fileRate }: FilmRecipe, out: string): string[] {
  return [
    '-y',
    '-f',
    'rawvideo',
    '-pix_fmt',
    'yuv420p',
    '-s',
    `${camera.width}x${camera.height}`,
    '-r',
    String(fileRate),
    '-i',
    'pipe:0',
    '-c:v',
    'libx264',
    '-preset',
    'veryfast',
    '-crf',
    '18',
    '-threads',
    '2',
    '-g',
    String(fileRate),
    '-pix_fmt',
    'yuv420p',
    ...COLOUR,
    ...EXACT,
    '-f',
    'mp4',
    out,
  ]
}

function joinArguments(picture: string, sound: string | null, out: string): string[] {
  const heard = sound === null ? ['-map', '0:v'] : ['-map', '0:v', '-map', '1:a', '-c:a', 'aac', '-b:a', '128k']
  const heardFrom = sound === null ? [] : ['-f', 'wav', '-i', sound]
  return ['-y', '-f', 'mp4', '-i', picture, ...heardFrom, ...heard, '-c:v', 'copy', ...EXACT, '-movflags', '+faststart', '-f', 'mp4', out]
}

interface FrameSource {
  readonly frames: () => AsyncGenerator<Uint8Array>
  readonly truth: () => Promise<Truth>
  readonly close: () => Promise<void>
}

/// Paints in this thread: where the built worker is not beside this file.
function inPlace({ recipe, capture, onFrame }: FilmMaking): FrameSource {
  const painting = new FilmPainting(recipe, capture)
  return {
    async *frames() {
      for (let n = 0; n < recipe.frames; n++) {
        yield painting.paint(n)
        onFrame?.(n + 1)
        await new Promise((resolve) => setImmediate(resolve))
      }
    },
    truth: () => Promise.resolve(painting.truth()),
    close: () => Promise.resolve(),
  }
}

function threaded({ recipe, capture, onFrame }: FilmMaking): FrameSource | null {
  const file = ['./film-worker.js', '../film-worker.js']
    .map((place) => fileURLToPath(new URL(place, import.meta.url)))
    .find((path) => existsSync(path))
  if (file === undefined) return null
  const worker = new Worker(file, { workerData: { film: recipe.name, capture } satisfies FilmWork })
  const ready: Uint8Array[] = []
  let truth: Truth | null = null
  let failure: unknown = null
  let wake: (() => void) | null = null
  const rouse = (): void => wake?.()
  worker.on('message', (news: FilmNews) => {
    if ('frame' in news) ready.push(news.frame)
    else truth = JSON.parse(news.truth) as Truth
    rouse()
  })
  worker.on('error', (error) => {
    failure = error
    rouse()
  })
  worker.on('exit', (status) => {
    if (status !== 0) failure ??= new Error(`the painting of ${recipe.name} stopped`)
    rouse()
  })
  const waitFor = async <T>(look: () => T | undefined | null): Promise<T> => {
    for (;;) {
      const found = look()
      if (found !== undefined && found !== null) return found
      if (failure) throw failure
      await new Promise<void>((resolve) => (wake = resolve))
    }
  }
  return {
    async *frames() {
      for (let n = 0; n < recipe.frames; n++) {
        const frame = await waitFor(() => ready.shift())
        worker.postMessage('taken')
        yield frame
        onFrame?.(n + 1)
      }
    },
    truth: () => waitFor(() => truth),
    close: async () => void (await worker.terminate()),
  }
}
