import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { writeWebVtt } from '../../app/exchange/web-vtt'
import type { Ticks } from '../../app/time/ticks'
import { startChromium } from '../chromium'

let browser: Browser
beforeAll(async () => {
  browser = await startChromium()
})
afterAll(() => browser.close())

it('Chromium’s own caption reader gets every caption with its text and its times', async () => {
  const second = 705_600_000
  const lines = ['a < b & c --> d', '<i>not styled</i>', '142° ± 12°, about', 'קו הכתפיים \u200F(142°)', '&amp; as typed', 'NOTE none']
  const captions = lines.map((line, i) => ({ from: (i * 2 * second) as Ticks, to: ((i * 2 + 1.5) * second) as Ticks, lines: [line, 'second line'] }))
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
    return Array.from(track.track.cues ?? []).map((cue) => ({ from: cue.startTime, to: cue.endTime, text: (cue as VTTCue).getCueAsHTML().textContent }))
  }, writeWebVtt(captions))
  expect(cues).toEqual(lines.map((line, i) => ({ from: i * 2, to: i * 2 + 1.5, text: `${line}\nsecond line` })))
})
