import { copyFile, mkdir, rename, rm, stat } from 'node:fs/promises'
import { dirname, join, resolve } from 'node:path'
import { CodedError } from '../../app/errors/coded-error'
import type { Breakdown } from '../../app/project/breakdown'
import type { Release } from '../../app/project/release'
import type { Manifest } from '../../app/release/manifest'
import type { FilmRemark } from '../../app/safety/film-remark'
import type { FilmLibrary } from '../media/film-library'
import type { FilmFaces } from '../render/faces'
import { planFilm, type TakeFile } from '../render/film-plan'
import type { RenderReport } from '../render/render-film'
import { codedSystemError } from '../system-error'
import { makeDeliveryFiles } from './delivery-files'
import { stillFile } from './evidence-files'
import { holdingBack } from './hold-back'
import { clearLeftFolders, writePending } from './pending-release'

export interface DeliveryInput {
  readonly breakdown: Breakdown
  readonly library: FilmLibrary
  readonly faces: FilmFaces
  readonly takes: ReadonlyMap<string, TakeFile>
  readonly cache: string
  /// The folder that comes into being.
  readonly folder: string
  /// Where the project keeps the evidence of its versions (`releases/<id>` within it); null: nowhere.
  readonly keep: string | null
  readonly id: string
  readonly version: string
  /// Whether the captions become part of the film's picture; they go beside it in any case.
  readonly burnCaptions?: boolean | undefined
  /// ISO 8601: when it is made.
  readonly now: string
  readonly projectVersion: number
  readonly signal?: AbortSignal | undefined
  readonly onProgress?: ((done: { readonly step: string; readonly fraction: number }) => void) | undefined
}

export interface Delivery {
  readonly folder: string
  readonly manifest: Manifest
  readonly release: Release
  readonly render: RenderReport
  readonly remarks: readonly FilmRemark[]
  /// Why platforms would not take the chapters; empty when they would.
  readonly told: readonly string[]
}

/// All is there; names are left.
const NAMING = 0.99

/// Makes a whole delivery: the film with its checks, captions, chapters, description, thumbnail, timelines, readings, curves, the
/// evidence, the document, and a manifest with checksums. It is written beside its name and gets it only when all of it is there;
/// whatever goes wrong, nothing stands under that name. What is kept has its name first, with the record beside it
/// (`settlePending` takes that away once the version is recorded), so that a run that is killed is brought to its end later. Rejects with CodedError: `file-exists`, `held-back`, `render-check-failed` …
export async function deliver(input: DeliveryInput): Promise<Delivery> {
  const target = resolve(input.folder)
  if ((await stat(target).catch(() => null)) !== null) throw new CodedError('file-exists', { file: target })
  const part = `${target}.${process.pid}.part`
  const kept = input.keep === null ? null : join(resolve(input.keep), input.id)
  const keptPart = kept === null ? null : `${kept}.${process.pid}.part`
  try {
    clearLeftFolders(target)
    await mkdir(part, { recursive: true })
    const plan = await planFilm({
      breakdown: input.breakdown,
      library: input.library,
      typeface: input.faces.typeface,
      takes: input.takes,
      draft: false,
      burnCaptions: input.burnCaptions,
    })
    const open = holdingBack(input.breakdown, plan.readings, plan.programme)
    if (open.length > 0) throw new CodedError('held-back', { findings: open.length })
    const made = await makeDeliveryFiles(input, plan, part)
    if (kept !== null && keptPart !== null) {
      for (const name of ['evidence.json', 'evidence.html', 'checks.json', ...made.stills.map(stillFile)]) {
        await mkdir(dirname(join(keptPart, name)), { recursive: true })
        await copyFile(join(part, name), join(keptPart, name))
      }
      writePending(keptPart, made.release, part, target)
    }
    if (input.signal?.aborted) throw new CodedError('cancelled', { what: 'the delivery' })
    input.onProgress?.({ step: 'made', fraction: NAMING })
    if (kept !== null && keptPart !== null) await rename(keptPart, kept)
    input.onProgress?.({ step: 'kept', fraction: NAMING })
    await rename(part, target).catch(async (error: unknown) => {
      if (kept !== null) await rm(kept, { recursive: true, force: true })
      throw error
    })
    input.onProgress?.({ step: 'done', fraction: 1 })
    return {
      folder: target,
      manifest: made.manifest,
      release: made.release,
      render: { ...made.render, out: join(target, made.film) },
      remarks: made.render.review?.remarks ?? [],
      told: made.matter.chapters.told,
    }
  } catch (error) {
    throw codedSystemError(error, target)
  } finally {
    await rm(part, { recursive: true, force: true })
    if (keptPart !== null) await rm(keptPart, { recursive: true, force: true })
  }
}
