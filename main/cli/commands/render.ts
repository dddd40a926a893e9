import { CodedError } from '../../../app/errors/coded-error'
import { withMinus } from '../../../app/measure/minus'
import type { LibraryFilm } from '../../media/film-library'
import { filmFaces, type FilmFaces } from '../../render/faces'
import { planFilm, type FilmPlan } from '../../render/film-plan'
import { renderFilm } from '../../render/render-film'
import { segmentArguments, segmentFolder, segmentKey } from '../../render/segment-cache'
import { findTakes } from '../../render/takes'
import { textOption, type Command, type CommandInput } from '../command'
import { FINE } from '../exit-status'
import { onePath } from '../one-path'
import { openBreakdown, type Opened } from '../opened'

export const render: Command = {
  usage: 'render <project or breakdown.json> --out film.mp4 [--draft] [--burn-captions] [--from s] [--to s] [--plan]',
  summary: 'Makes the film, with its checks. --plan prints the segment jobs instead.',
  options: {
    out: { type: 'string', short: 'o' },
    draft: { type: 'boolean' },
    'burn-captions': { type: 'boolean' },
    from: { type: 'string' },
    to: { type: 'string' },
    plan: { type: 'boolean' },
    cache: { type: 'string' },
  },
  async run(input) {
    const path = onePath(input, render)
    const out = textOption(input, 'out')
    if (!out && !input.values['plan']) throw new CodedError('wrong-use', { problem: `Usage: claimframe ${render.usage}` })
    const range = { from: secondsOption(input, 'from'), to: secondsOption(input, 'to') }
    const opened = await openBreakdown(input, path)
    const [faces, takes] = await Promise.all([filmFaces(), findTakes(opened.breakdown, opened)])
    const whole = {
      breakdown: opened.breakdown,
      library: opened.library,
      typeface: faces.typeface,
      takes,
      draft: input.values['draft'] === true,
      burnCaptions: input.values['burn-captions'] === true,
      onProgress: input.progress,
    }
    const plan = await planFilm({ ...whole, ...frameRange(range, opened.breakdown.output.rate) })
    if (input.values['plan']) {
      input.print(JSON.stringify(planAsData(plan, opened, faces), null, 2))
      return FINE
    }
    // What reads sentences takes long to start, and most refusals come before it.
    if (!whole.draft) (await import('../../release/hold-back')).holdBackFilm(opened.breakdown, plan.readings, plan.programme)
    const report = await renderFilm({
      plan,
      library: opened.library,
      faces,
      out: out!,
      cache: opened.cache,
      review: !whole.draft,
      signal: input.signal,
      onProgress: (p) => input.progress(`${p.step}: ${Math.floor(p.fraction * 100)} %`),
    })
    for (const finding of plan.programme.findings) input.say(`${finding.paragraph}: ${finding.problem}`)
    for (const remark of report.review?.remarks ?? []) input.say(remark.problem)
    if (input.json) input.print(JSON.stringify({ ...report, findings: plan.programme.findings }, null, 2))
    else {
      const { integrated, truePeak, target } = report.sound
      const loudness =
        target === null ? 'no narration' : `${withMinus(integrated.toFixed(1))} LUFS, true peak ${withMinus(truePeak.toFixed(1))} dBTP`
      input.print(
        `${report.out}: ${report.seconds.toFixed(1)} s, ${report.frames} frames, ${loudness}; ${report.segments.made} segments made, ${report.segments.kept} kept from before.`,
      )
    }
    return FINE
  },
}

function secondsOption(input: CommandInput, name: string): number | undefined {
  const text = textOption(input, name)
  if (text === undefined) return undefined
  if (!/^\d+(\.\d+)?$/.test(text)) throw new CodedError('wrong-use', { problem: `--${name} takes seconds of the film, such as 12.5` })
  return Number(text)
}

function frameRange(range: { from: number | undefined; to: number | undefined }, rate: string): { from?: number; to?: number } {
  const [n, d] = rate.split('/').map(Number)
  const frame = (seconds: number): number => Math.round((seconds * n!) / (d ?? 1))
  return { ...(range.from === undefined ? {} : { from: frame(range.from) }), ...(range.to === undefined ? {} : { to: frame(range.to) }) }
}

/// The segment jobs as data, for a batch engine. Each is run in a folder of its own that holds `files` and, in `fonts`,
/// copies of `faces`; the piece it makes belongs under its name into the cache's `segments` folder, where the
/// next render finds it, joins and checks.
function planAsData(plan: FilmPlan, opened: Opened, faces: FilmFaces): unknown {
  const source = (footage: string): LibraryFilm => plan.films.get(footage)!
  const making = { tool: opened.library.tool, folder: segmentFolder(opened.cache), faces, source }
  return {
    film: {
      width: plan.programme.width,
      height: plan.programme.height,
      rate: `${plan.programme.rate.n}/${plan.programme.rate.d}`,
      frames: plan.programme.frames,
    },
    ffmpeg: opened.library.tool.version,
    into: making.folder,
    faces: faces.files,
    segments: plan.jobs.map((job) => {
      const name = `${segmentKey(job, making)}.mp4`
      return {
        name,
        start: job.start,
        frames: job.frames,
        inputs: job.inputs.map((input) => ({ ...input, file: source(input.footage).path, identity: source(input.footage).identity })),
        files: job.ass === null ? {} : { 'marks.ass': job.ass },
        arguments: segmentArguments(job, making, name),
      }
    }),
  }
}
