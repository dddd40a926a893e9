import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { writeWebVtt } from '../../app/exchange/web-vtt'
import { burnCaptions } from '../../app/marks/burned-caption'
import { intersection } from '../../app/marks/box'
import { captionsOf } from '../../app/programme/caption'
import { filmLabels } from '../../app/safety/film-label'
import { CAPTION_LIMITS, readingCharacters } from '../../app/script/caption-limits'
import { shownText } from '../../app/script/spoken-form'
import type { Ticks } from '../../app/time/ticks'
import { startChromium } from '../chromium'
import { demoFilm, secondsOfFrame } from '../demo-film'

let browser: Browser
beforeAll(async () => {
  browser = await startChromium()
})
afterAll(() => browser.close())

/// What Chromium's own track parser reads from a file.
async function readByChromium(file: string): Promise<{ from: number; to: number; text: string | null }[]> {
  const page = await browser.newPage()
  const cues = await page.evaluate(async (vtt) => {
    const video = document.createElement('video')
    const track = document.createElement('track')
    track.default = true
    track.kind = 'captions'
    track.src = `data:text/vtt;charset=utf-8,${encodeURIComponent(vtt)}`
    video.append(track)
    document.body.append(video)
    track.track.mode = 'showing'
    await new Promise<void>((resolve, reject) => {
      track.addEventListener('load', () => resolve())
      track.addEventListener('error', () => reject(new Error('the track was refused')))
    })
    return Array.from(track.track.cues ?? []).map((cue) => ({
      from: cue.startTime,
      to: cue.endTime,
      text: (cue as VTTCue).getCueAsHTML().textContent,
    }))
  }, file)
  await page.close()
  return cues
}

it('Chromium’s own caption reader gets every caption with its text and its times', async () => {
  const second = 705_600_000
  const lines = ['a < b & c --> d', '<i>not styled</i>', '142° ± 12°, about', 'קו הכתפיים \u200F(142°)', '&amp; as typed', 'NOTE none']
  const captions = lines.map((line, i) => ({
    from: (i * 2 * second) as Ticks,
    to: ((i * 2 + 1.5) * second) as Ticks,
    lines: [line, 'second line'],
  }))
  const cues = await readByChromium(writeWebVtt(captions))
  expect(cues).toEqual(lines.map((line, i) => ({ from: i * 2, to: i * 2 + 1.5, text: `${line}\nsecond line` })))
})

/// Reading speed, lines and their length: BBC's and Ofcom's figures, through secondary sources.
it('the demo’s captions all arrive in Chromium, at 17 characters a second at most or flagged, with every word of the script', async () => {
  const { breakdown, programme, readings } = demoFilm()
  const captions = captionsOf(breakdown, programme, readings)
  const cues = await readByChromium(writeWebVtt(captions))
  expect(cues).toHaveLength(captions.length)
  const said = breakdown.script.flatMap((row) => ('text' in row ? [shownText(row, readings)] : [])).filter((words) => words !== '')
  expect(cues.map(({ text }) => text?.replaceAll('\n', ' ')).join(' ')).toBe(said.join(' '))
  const fast = cues.filter(
    ({ from, to, text }) => readingCharacters(text!.replaceAll('\n', ' ')) / (to - from) > CAPTION_LIMITS.readingRate + 0.1,
  )
  const flagged = captions.filter(({ flags }) => flags.some((flag) => flag === 'reads-fast' || flag === 'reads-too-fast'))
  expect(fast.map(({ text }) => text)).toEqual(flagged.map(({ lines }) => lines.join('\n')))
  for (const { text } of cues) {
    expect(text!.split('\n').length).toBeLessThanOrEqual(2)
    for (const line of text!.split('\n')) expect([...line].length).toBeLessThanOrEqual(42)
  }
  cues.slice(1).forEach(({ from }, i) => expect(from).toBeGreaterThan(cues[i]!.to))
})

it('the demo’s captions, burned in, overlap its labels by 0 px; the one that a word stood in the way of was moved', () => {
  const { breakdown, programme, readings, context } = demoFilm()
  const captions = captionsOf(breakdown, programme, readings)
  const burned = burnCaptions(captions, programme, context)
  expect(burned.map(({ from, to }) => [secondsOfFrame(from, programme), secondsOfFrame(to, programme)])).toEqual(
    captions.map(({ from, to }) => [from / 705_600_000, to / 705_600_000]),
  )
  const labels = filmLabels(programme, context)
  expect(labels.length).toBeGreaterThan(30)
  let overlap = 0
  for (const { from, to, block } of burned)
    for (const box of block.boxes)
      for (const label of labels) {
        const shared = label.from < to && label.to > from ? intersection(box, label.box) : null
        overlap += shared ? shared.width * shared.height : 0
      }
  expect(overlap).toBe(0)
  expect(burned.every(({ clear }) => clear)).toBe(true)
  const moved = burned.filter(({ block }) => block.boxes[0]!.y < 0.82 * programme.height)
  expect(moved.map(({ block }) => block.shapes.flatMap((shape) => (shape.kind === 'text' ? [shape.text] : [])).join(' '))).toEqual([
    'from shoulder turn to contact; how long that took, this film cannot tell.',
  ])
})
