import { mkdir, readdir, stat, writeFile } from 'node:fs/promises'
import { join, relative, sep } from 'node:path'
import { writeSvg } from '../../app/marks/svg'
import { drawCurve } from '../../app/marks/curve-drawing'
import { curveFigures } from '../../app/marks/curve-figure'
import { PAPER } from '../../app/marks/curve-page'
import { evidencePage } from '../../app/release/evidence-page'
import type { EvidenceStill } from '../../app/release/evidence-still'
import type { FilmChecks } from '../../app/release/film-checks'
import { MANIFEST, writeManifest, type Manifest, type ManifestFile } from '../../app/release/manifest'
import { releaseRecord } from '../../app/release/release-record'
import { thumbnailOf } from '../../app/release/thumbnail'
import type { Release, ReleasedFile } from '../../app/project/release'
import { FLASH_AREA } from '../../app/safety/flash-definition'
import { NO_LIMIT_EXCEEDED } from '../../app/safety/film-remark'
import { toNumber } from '../../app/time/rational'
import { fullHash } from '../media/identity'
import { drawContext, type FilmPlan } from '../render/film-plan'
import { renderFilm, type RenderReport } from '../render/render-film'
import { stillPicture } from '../render/stills'
import type { DeliveryInput } from './deliver'
import { deliveryMatter, deliveryTexts, type DeliveryMatter } from './delivery-texts'
import { classIn, embeddedStills, makeEvidenceStills, neededStills, stillFile } from './evidence-files'
import { paintFigure } from './figure-picture'
import { fileStem } from './file-stem'
import { frameTimes, reportOf } from './film-evidence'

export interface DeliveryFiles {
  readonly manifest: Manifest
  readonly release: Release
  readonly render: RenderReport
  readonly matter: DeliveryMatter
  readonly stills: readonly EvidenceStill[]
  readonly film: string
}

/// The film takes by far the most of the work.
const FILM_SHARE = 0.85

/// What each file of a delivery is, by its name.
type Named = ReadonlyMap<string, string>

/// Makes all files of a delivery in the folder `part`, which is there: the film with its checks, the texts, pictures, curves and
/// evidence, and the manifest that names them.
export async function makeDeliveryFiles(input: DeliveryInput, plan: FilmPlan, part: string): Promise<DeliveryFiles> {
  const { breakdown, library, faces, cache, signal } = input
  const { programme, films, readings } = plan
  const stem = fileStem(breakdown.title)
  const film = `${stem}.mp4`
  const tell = (step: string, fraction: number): void => input.onProgress?.({ step, fraction })
  const render = await renderFilm({
    plan,
    library,
    faces,
    out: join(part, film),
    cache,
    review: true,
    signal,
    onProgress: (done) => tell(done.step, FILM_SHARE * done.fraction),
  })
  const context = drawContext(breakdown, programme, films, readings, faces.typeface)
  const matter = deliveryMatter({ breakdown, programme, films, readings, context })
  const texts = await writeTexts(matter, stem, part)
  const stills = await makeEvidenceStills(matter, neededStills(matter), part, {
    library,
    faces,
    cache,
    signal,
    onProgress: (done) => tell('stills', FILM_SHARE + 0.08 * done),
  })
  const thumbnail = `${stem}-thumbnail.png`
  await stillPicture(
    { breakdown, programme, films, readings, faces, library, cache, signal },
    thumbnailOf(programme, breakdown.output).frame,
    join(part, thumbnail),
  )
  const curves = await writeCurves(input, matter, part)
  await writeFile(join(part, 'checks.json'), `${JSON.stringify(checksOf(render, matter), null, 2)}\n`)

  tell('evidence', FILM_SHARE + 0.1)
  const named: Named = new Map([
    [film, 'the film'],
    ...texts,
    ...stills.map((still) => [stillFile(still), `frame ${still.frame} of ${still.clip}`] as const),
    [thumbnail, 'thumbnail'],
    ...curves,
    ['checks.json', 'what was checked on the finished film'],
  ])
  const listed = await hashed(part, named, signal)
  const hashes = await footageHashes(plan, signal)
  const files = [...releasedFiles(listed, stills, matter, hashes), ...(await takeFiles(input, listed))]
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
  const evidence = await hashed(part, await writeEvidence(matter, release, stills, part), signal)
  const manifest: Manifest = {
    format: 'claimframe-delivery',
    film: breakdown.title,
    version: input.version,
    date: release.date,
    made: input.now,
    files: [...listed, ...evidence],
  }
  await writeFile(join(part, MANIFEST), writeManifest(manifest))
  await nothingElse(part, manifest)
  const evidenceFiles = evidence.map(({ name, sha256, bytes }) => ({ name, sha256, bytes }))
  return { manifest, release: { ...release, files: [...release.files, ...evidenceFiles] }, render, matter, stills, film }
}

async function writeTexts(matter: DeliveryMatter, stem: string, part: string): Promise<Named> {
  const named = new Map<string, string>()
  for (const write of Object.values(deliveryTexts)) {
    const file = write(matter, stem)
    await writeFile(join(part, file.name), file.text)
    named.set(file.name, file.what)
  }
  return named
}

async function writeCurves(
  { breakdown, library, faces, cache, signal }: DeliveryInput,
  { context, readings }: DeliveryMatter,
  part: string,
): Promise<Named> {
  const named = new Map<string, string>()
  for (const figure of curveFigures(breakdown.measures ?? [], context.measures, readings)) {
    const name = `curves/${safe(figure.measure)}`
    const shapes = drawCurve(figure, faces.typeface)
    await mkdir(join(part, 'curves'), { recursive: true })
    await writeFile(join(part, `${name}.svg`), writeSvg(shapes, PAPER, faces.typeface, figure.title))
    await paintFigure(library.tool, shapes, PAPER, faces, join(part, `${name}.png`), cache, signal)
    named.set(`${name}.svg`, `curve of ${figure.measure}`).set(`${name}.png`, `curve of ${figure.measure}`)
  }
  return named
}

/// The files as the release keeps them: a still with the frame that it shows, and the film and time that this is of.
function releasedFiles(
  listed: readonly ManifestFile[],
  stills: readonly EvidenceStill[],
  matter: DeliveryMatter,
  hashes: ReadonlyMap<string, string>,
): ReleasedFile[] {
  const timeOf = frameTimes(matter)
  const shown = new Map(stills.map((still) => [stillFile(still), still]))
  return listed.map(({ name, sha256, bytes }) => {
    const still = shown.get(name)
    if (!still) return { name, sha256, bytes }
    const { clip, frame } = still
    const footageSha256 = hashes.get(matter.breakdown.clips.find(({ id }) => id === clip)?.footage ?? '')
    const at_s = timeOf(clip, frame)
    return {
      name,
      sha256,
      bytes,
      still: { clip, frame, ...(footageSha256 ? { footageSha256 } : {}), ...(at_s === null ? {} : { at_s }) },
    }
  })
}

/// The takes that are heard. They stay in the project; the release knows each by its content.
async function takeFiles({ breakdown, takes, signal }: DeliveryInput, listed: readonly ManifestFile[]): Promise<ReleasedFile[]> {
  const files = new Map<string, ReleasedFile>()
  for (const row of breakdown.script) {
    if (!('text' in row) || row.take === undefined || files.has(row.take)) continue
    const take = takes.get(row.id)
    if (take && !listed.some(({ name }) => name === row.take))
      files.set(row.take, { name: row.take, sha256: await fullHash(take.path, { signal }) })
  }
  return [...files.values()]
}

async function writeEvidence(matter: DeliveryMatter, release: Release, stills: readonly EvidenceStill[], part: string): Promise<Named> {
  const report = reportOf(matter, release)
  await writeFile(join(part, 'evidence.json'), `${JSON.stringify(report, null, 2)}\n`)
  await writeFile(join(part, 'evidence.html'), evidencePage(report, await embeddedStills(stills, part)))
  return new Map([
    ['evidence.json', 'the evidence as data'],
    ['evidence.html', 'the evidence, to read and print'],
  ])
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

async function hashed(folder: string, what: Named, signal: AbortSignal | undefined): Promise<ManifestFile[]> {
  const files: ManifestFile[] = []
  for (const [name, kind] of what)
    files.push({ name, bytes: (await stat(join(folder, name))).size, sha256: await fullHash(join(folder, name), { signal }), what: kind })
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
