import { createHash } from 'node:crypto'
import { copyFile, mkdir, readdir, rename, rm, stat, writeFile } from 'node:fs/promises'
import { dirname, join, relative, resolve, sep } from 'node:path'
import { CodedError } from '../../app/errors/coded-error'
import { writeSvg } from '../../app/marks/svg'
import { curveFigures, drawCurve, PAPER } from '../../app/marks/curve-figure'
import { evidencePage } from '../../app/release/evidence-page'
import { evidenceReport, type EvidenceReport } from '../../app/release/evidence-report'
import type { EvidenceStill } from '../../app/release/evidence-still'
import { MANIFEST, writeManifest, type Manifest, type ManifestFile } from '../../app/release/manifest'
import { noticeFindings, noticeOverrides } from '../../app/release/notices'
import { releaseRecord } from '../../app/release/release-record'
import { thumbnailOf } from '../../app/release/thumbnail'
import { findingsOf } from '../../app/script/claims/findings'
import { statedClaims } from '../../app/script/claims/stated-claim'
import type { Breakdown } from '../../app/project/breakdown'
import type { Release, ReleasedFile } from '../../app/project/release'
import type { FilmChecks } from '../../app/release/film-checks'
import { FLASH_AREA } from '../../app/safety/flash-meter'
import { NO_LIMIT_EXCEEDED, type FilmRemark } from '../../app/safety/film-remark'
import { secondsAt } from '../../app/time/frame-table'
import { toNumber } from '../../app/time/rational'
import type { FilmLibrary } from '../media/film-library'
import { fullHash } from '../media/identity'
import type { FilmFaces } from '../render/faces'
import { drawContext, planFilm, type FilmPlan, type TakeFile } from '../render/film-plan'
import { renderFilm, type RenderReport } from '../render/render-film'
import { stillPicture } from '../render/stills'
import { codedSystemError } from '../system-error'
import { deliveryMatter, deliveryTexts, type DeliveryMatter } from './delivery-texts'
import { classIn, embeddedStills, makeEvidenceStills, neededStills, stillFile } from './evidence-files'
import { paintFigure } from './figure-picture'
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
    const plan = await planFilm({ breakdown: input.breakdown, library: input.library, typeface: input.faces.typeface, takes: input.takes, draft: false, burnCaptions: input.burnCaptions })
    const open = holdingBack(input.breakdown, plan.readings, plan.programme)
    if (open.length > 0) throw new CodedError('held-back', { findings: open.length })
    const made = await makeFiles(input, plan, part)
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
    return { folder: target, manifest: made.manifest, release: made.release, render: { ...made.render, out: join(target, made.film) }, remarks: made.render.review?.remarks ?? [], told: made.matter.chapters.told }
  } catch (error) {
    throw codedSystemError(error, target)
  } finally {
    await rm(part, { recursive: true, force: true })
    if (keptPart !== null) await rm(keptPart, { recursive: true, force: true })
  }
}

interface MadeFiles {
  readonly manifest: Manifest
  readonly release: Release
  readonly render: RenderReport
  readonly matter: DeliveryMatter
  readonly stills: readonly EvidenceStill[]
  readonly film: string
}

/// All is there; names are left.
const NAMING = 0.99

/// The film takes by far the most of the work.
const FILM_SHARE = 0.85

async function makeFiles(input: DeliveryInput, plan: FilmPlan, part: string): Promise<MadeFiles> {
  const { breakdown, library, faces, cache, signal } = input
  const { programme, films, readings } = plan
  const stem = fileStem(breakdown.title)
  const film = `${stem}.mp4`
  const tell = (step: string, fraction: number): void => input.onProgress?.({ step, fraction })
  const render = await renderFilm({ plan, library, faces, out: join(part, film), cache, review: true, signal, onProgress: (done) => tell(done.step, FILM_SHARE * done.fraction) })

  const context = drawContext(breakdown, programme, films, readings, faces.typeface)
  const matter = deliveryMatter({ breakdown, programme, films, readings, context })
  const what = new Map<string, string>([[film, 'the film']])
  for (const write of Object.values(deliveryTexts)) {
    const file = write(matter, stem)
    await writeFile(join(part, file.name), file.text)
    what.set(file.name, file.what)
  }
  const stills = await makeEvidenceStills(matter, neededStills(matter), part, { library, faces, cache, signal, onProgress: (done) => tell('stills', FILM_SHARE + 0.08 * done) })
  for (const still of stills) what.set(stillFile(still), `frame ${still.frame} of ${still.clip}`)
  await stillPicture({ breakdown, programme, films, readings, faces, library, cache, signal }, thumbnailOf(programme, breakdown.output).frame, join(part, `${stem}-thumbnail.png`))
  what.set(`${stem}-thumbnail.png`, 'thumbnail')
  for (const figure of curveFigures(breakdown.measures ?? [], context.measures, readings)) {
    const name = `curves/${safe(figure.measure)}`
    const shapes = drawCurve(figure, faces.typeface)
    await mkdir(join(part, 'curves'), { recursive: true })
    await writeFile(join(part, `${name}.svg`), writeSvg(shapes, PAPER, faces.typeface, figure.title))
    await paintFigure(library.tool, shapes, PAPER, faces, join(part, `${name}.png`), cache, signal)
    what.set(`${name}.svg`, `curve of ${figure.measure}`).set(`${name}.png`, `curve of ${figure.measure}`)
  }

  await writeFile(join(part, 'checks.json'), `${JSON.stringify(checksOf(render, matter), null, 2)}\n`)
  what.set('checks.json', 'what was checked on the finished film')

  tell('evidence', FILM_SHARE + 0.1)
  const hashes = await footageHashes(plan, signal)
  const timeOf = frameTimes(matter)
  const listed = await hashed(part, what, signal)
  const files: ReleasedFile[] = listed.map(({ name, sha256, bytes }) => {
    const still = stills.find((each) => stillFile(each) === name)
    const footage = still && hashes.get(breakdown.clips.find((clip) => clip.id === still.clip)?.footage ?? '')
    const at_s = still && timeOf(still.clip, still.frame)
    return { name, sha256, bytes, ...(still ? { still: { clip: still.clip, frame: still.frame, ...(footage ? { footageSha256: footage } : {}), ...(at_s === null || at_s === undefined ? {} : { at_s }) } } : {}) }
  })
  for (const row of breakdown.script) {
    const take = 'text' in row ? input.takes.get(row.id) : undefined
    if (take && 'text' in row && row.take !== undefined && !files.some(({ name }) => name === row.take)) files.push({ name: row.take, sha256: await fullHash(take.path, { signal }) })
  }
  const release = releaseRecord({
    ...matter,
    classOf: classIn(breakdown, readings),
    stills,
    stillFile,
    id: input.id,
    version: input.version,
    date: input.now.slice(0, 10),
    projectVersion: input.projectVersion,
    files,
    footageSha256: hashes,
    document: files.find(({ name }) => name === `${stem}.json`)?.sha256,
  })
  const report = reportOf(matter, release)
  await writeFile(join(part, 'evidence.json'), `${JSON.stringify(report, null, 2)}\n`)
  await writeFile(join(part, 'evidence.html'), evidencePage(report, await embeddedStills(stills, part)))
  const evidence = await hashed(part, new Map([['evidence.json', 'the evidence as data'], ['evidence.html', 'the evidence, to read and print']]), signal)
  const manifest: Manifest = { format: 'claimframe-delivery', film: breakdown.title, version: input.version, date: release.date, made: input.now, files: [...listed, ...evidence] }
  await writeFile(join(part, MANIFEST), writeManifest(manifest))
  await nothingElse(part, manifest)
  return { manifest, release: { ...release, files: [...release.files, ...evidence.map(({ name, sha256, bytes }) => ({ name, sha256, bytes }))] }, render, matter, stills, film }
}

/// The evidence of a film as data.
export function reportOf(matter: DeliveryMatter, release: Release): EvidenceReport {
  const { breakdown, programme } = matter
  const classOf = classIn(breakdown, matter.readings)
  return evidenceReport({
    release,
    breakdown,
    context: matter.context.measures,
    seconds: programme.frames / toNumber(programme.rate),
    sources: matter.sources,
    references: matter.references,
    chapters: matter.chapters,
    notices: matter.notices,
    timeOf: frameTimes(matter),
    findings: findingsOf(breakdown, matter.readings),
    noticesOpen: noticeFindings(programme, breakdown),
    noticeOverrides: noticeOverrides(programme, breakdown),
    stateOf: (said) => classOf({ paragraph: said.on?.paragraph ?? '', words: said.on?.words ?? '', nth: said.on?.nth ?? 0 })?.state ?? 'none',
    claims: statedClaims(breakdown, matter.readings).claims,
  })
}

/// Seconds of the file at which a clip's frame stands; null where its table is not known.
function frameTimes({ breakdown, films }: DeliveryMatter): (clip: string, frame: number) => number | null {
  const clips = new Map(breakdown.clips.map((clip) => [clip.id, clip]))
  return (clip, frame) => {
    const film = films.get(clips.get(clip)?.footage ?? '')
    return film && frame <= film.table.pts.length ? secondsAt(film.table, frame) : null
  }
}

/// What was looked at on the finished film, and what was found.
function checksOf(render: RenderReport, { programme, chapters }: DeliveryMatter): FilmChecks {
  const { review, sound } = render
  const rate = toNumber(programme.rate)
  return {
    said: (review?.remarks.length ?? 0) === 0 ? NO_LIMIT_EXCEEDED : 'Nothing that stops the film; these are to be looked at.',
    remarks: (review?.remarks ?? []).map((remark) => ({ ...remark, at_s: remark.frame === null ? null : remark.frame / rate })),
    seconds: render.seconds,
    frames: render.frames,
    flashes: review && { generalShare: review.flashes.general.share, redShare: review.flashes.red.share, limit: FLASH_AREA },
    labels: review?.labels ?? null,
    approved: review?.approved ?? null,
    sound: { integrated: sound.integrated, truePeak: sound.truePeak, target: sound.target },
    chapters: [...chapters.told],
  }
}

async function footageHashes(plan: FilmPlan, signal: AbortSignal | undefined): Promise<Map<string, string>> {
  const hashes = new Map<string, string>()
  for (const [id, film] of plan.films) hashes.set(id, await fullHash(film.path, { signal }))
  return hashes
}

async function hashed(folder: string, what: ReadonlyMap<string, string>, signal: AbortSignal | undefined): Promise<ManifestFile[]> {
  const files: ManifestFile[] = []
  for (const [name, kind] of what) files.push({ name, bytes: (await stat(join(folder, name))).size, sha256: await fullHash(join(folder, name), { signal }), what: kind })
  return files
}

/// A delivery holds what its manifest names and nothing else.
async function nothingElse(folder: string, manifest: Manifest): Promise<void> {
  const named = new Set([...manifest.files.map(({ name }) => name), MANIFEST])
  for (const entry of await readdir(folder, { recursive: true, withFileTypes: true })) {
    const name = relative(folder, join(entry.parentPath, entry.name)).split(sep).join('/')
    if (entry.isFile() && !named.has(name)) throw new RangeError(`${name} is in no manifest`)
  }
}

const safe = (id: string): string => id.replaceAll(/[^\p{L}\p{N}._-]/gu, '_')

/// Names that the delivery's own files have (`checks.json`, `evidence.html`, `manifest.json`), and those that a file may
/// not have on Windows, whatever its ending (Microsoft, "Naming Files, Paths, and Namespaces"; from memory).
const TAKEN = /^(checks|evidence|manifest|con|prn|aux|nul|com\d|lpt\d)$/

/// A title as the beginning of file names: plain letters, digits and hyphens, and none of the delivery's own names.
export function fileStem(title: string): string {
  const stem = title.normalize('NFKD').replace(/\p{M}/gu, '').toLowerCase().replace(/[^a-z0-9]+/g, '-').replace(/^-+|-+$/g, '').slice(0, 60)
  if (TAKEN.test(stem)) return `film-${stem}`
  return stem || `film-${createHash('sha256').update(title).digest('hex').slice(0, 8)}`
}
