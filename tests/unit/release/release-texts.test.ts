import { describe, expect, it } from 'vitest'
import { writeWebVtt } from '../../../app/exchange/web-vtt'
import { layOut } from '../../../app/programme/lay-out'
import type { Programme } from '../../../app/programme/programme'
import { filmTimeText, readFilmTime, sentenceAt, timedSentences } from '../../../app/programme/sentence-time'
import { captionsOf } from '../../../app/programme/caption'
import type { Breakdown } from '../../../app/project/breakdown'
import { answerAt } from '../../../app/release/answer'
import { chapterLines, chaptersOf } from '../../../app/release/chapters'
import { correctionLines } from '../../../app/release/description'
import { evidencePage } from '../../../app/release/evidence-page'
import type { EvidenceReport } from '../../../app/release/evidence-report'
import { findingsOf } from '../../../app/script/claims/findings'
import { isLeftOut, noticeFindings, NOTICE_PROBLEMS, noticesOf } from '../../../app/release/notices'
import { sourceUses } from '../../../app/release/source-use'
import { cautionText } from '../../../app/script/caution-text'
import { headingText } from '../../../app/script/heading-text'
import { speakingTime } from '../../../app/script/speaking-time'
import { evenFrameTable } from '../../../app/time/frame-table'
import { rational } from '../../../app/time/rational'

const table = evenFrameTable(300, rational(30))
const long = `${'word '.repeat(1999)}ends.`

function filmed(parts: Partial<Breakdown> = {}): { breakdown: Breakdown; programme: Programme } {
  const breakdown: Breakdown = {
    format: 'claimframe-breakdown',
    version: 1,
    title: 'A film',
    output: { width: 640, height: 360, rate: '30/1' },
    footage: [
      { id: 'f1', file: 'a.mp4', source: { owner: 'Lantern Yard' } },
      { id: 'f2', file: 'unused.mp4' },
    ],
    subjects: [],
    clips: [{ id: 'c1', footage: 'f1', from: 0, to: 300, capture: { factor: '1', u: 0 } }],
    script: [
      { chapter: 'One' },
      {
        id: 'p1',
        text: ['He plants. Then he turns, slowly. He plants.'],
        shots: [
          { run: 'c1', from: 0, to: 150, speed: '1/2' },
          { run: 'c1', from: 100, to: 200, speed: '1' },
        ],
      },
      { chapter: 'Two' },
      { id: 'p2', text: [], shots: [{ hold: 'c1', at: 10, seconds: '12' }] },
      { chapter: 'Three' },
      {
        id: 'p3',
        text: [],
        shots: [
          { hold: 'c1', at: 20, seconds: '11' },
          { card: 'end', seconds: '4' },
        ],
      },
    ],
    ...parts,
  }
  const programme = layOut(breakdown, {
    film: () => ({ table, width: 640, height: 360 }),
    cardSeconds: () => rational(4),
    takeSeconds: () => null,
    speakingSeconds: (paragraph) => speakingTime(paragraph, new Map()).sound,
    cueSeconds: () => null,
    chapterTitle: (chapter) => headingText(chapter, new Map()),
  })
  return { breakdown, programme }
}

describe('times of a film', () => {
  it('are read as people type them, with a question around them', () => {
    for (const [text, seconds] of [
      ['08:12', 492],
      ['8:12', 492],
      ['1:02:03', 3723],
      ['492', 492],
      ['08:12, how do you know?', 492],
      ['what about 0:05.5?', 5.5],
    ] as const)
      expect(readFilmTime(text), text).toBe(seconds)
    for (const text of ['', 'how do you know?', '8:75', 'version 2']) expect(readFilmTime(text), text).toBeNull()
    expect([filmTimeText(492.9), filmTimeText(3723), filmTimeText(0)]).toEqual(['8:12', '1:02:03', '0:00'])
  })

  it('find the sentence that is said, each once and in order, also where the same words come again', () => {
    const { breakdown, programme } = filmed()
    const sentences = timedSentences(programme, breakdown, new Map())
    expect(sentences.map((s) => [s.words, s.nth])).toEqual([
      ['He plants.', 0],
      ['Then he turns, slowly.', 0],
      ['He plants.', 1],
    ])
    for (let i = 1; i < sentences.length; i++) expect(sentences[i]!.from_s).toBeGreaterThanOrEqual(sentences[i - 1]!.to_s)
    expect(sentences[0]!.from_s).toBeCloseTo(4, 6)
    expect(sentenceAt(sentences, sentences[1]!.from_s + 0.01)?.words).toBe('Then he turns, slowly.')
    expect(sentenceAt(sentences, 0)?.words).toBe('He plants.')
  })
})

describe('chapters', () => {
  it('begin at 0:00, three or more of ten seconds or more', () => {
    const chapters = chaptersOf(filmed().programme)
    expect(chapters.told).toEqual([])
    expect(chapterLines(chapters)).toEqual(['0:00 One', '0:17 Two', '0:29 Three'])
  })

  it('that a platform would not take are told of, each with its reason', () => {
    const { script } = filmed().breakdown
    expect(chaptersOf(filmed({ script: script.slice(0, 4) }).programme).told).toEqual(['There are 2 chapters; at least 3 are needed.'])
    expect(chaptersOf(filmed({ script: script.filter((row) => 'text' in row) }).programme).told).toEqual([
      'The script has no chapter headings.',
    ])
    const short = chaptersOf(
      filmed({
        script: [
          ...script.slice(0, 2),
          { chapter: 'Short' },
          { id: 'p9', text: [], shots: [{ hold: 'c1', at: 1, seconds: '2' }] },
          ...script.slice(2),
        ],
      }).programme,
    )
    expect(short.told).toEqual(['“Short” lasts 2.0 s; a chapter lasts at least 10 s.'])
  })
})

describe('the notices', () => {
  it('are required: a film without its end card, or with a shorter start card, has an open finding', () => {
    const { breakdown, programme } = filmed()
    expect(noticeFindings(programme, breakdown)).toEqual([])
    const bare = filmed({ script: breakdown.script.slice(0, 4) })
    expect(noticeFindings(bare.programme, bare.breakdown).map((f) => f.code)).toEqual(['end-card-missing'])
    const [chapter, first, ...rest] = breakdown.script
    const brief = filmed({
      script: [
        chapter!,
        {
          ...first!,
          shots: [{ card: 'caution', seconds: '3' }, ...('shots' in first! ? first.shots! : [])],
        } as Breakdown['script'][number],
        ...rest,
      ],
    })
    expect(noticeFindings(brief.programme, brief.breakdown).map((f) => f.code)).toEqual(['start-card-missing'])
  })

  it('take a card’s own words, and are gone only where that was decided and recorded', () => {
    expect(noticesOf(filmed().breakdown).end.map(({ text }) => text)).toEqual([
      cautionText.practice,
      cautionText.estimates,
      cautionText.health,
    ])
    const own = filmed({
      script: [
        {
          id: 'p',
          text: [],
          shots: [
            { card: 'caution', lines: ['Hard blows.'] },
            { card: 'end', lines: ['See a doctor.'] },
          ],
        },
      ],
    })
    expect(noticesOf(own.breakdown)).toEqual({
      start: 'Hard blows.',
      end: [{ label: '', text: 'See a doctor.' }, ...noticesOf(filmed().breakdown).end],
    })
    const override = {
      id: 'o1',
      finding: 'start-card-missing',
      problem: NOTICE_PROBLEMS['start-card-missing'],
      reason: 'no blows in it',
      by: 'me',
      when: '2026-11-25',
    }
    const without = filmed({ overrides: [override] })
    expect(without.programme.shots[0]!.card).toBeNull()
    expect(noticeFindings(without.programme, without.breakdown)).toEqual([])
    expect(noticesOf(without.breakdown).start).toBe('')
    expect(isLeftOut({ overrides: [{ ...override, problem: 'another thing' }] }, 'start-card-missing')).toBe(false)
  })
})

describe('notices in other words', () => {
  const told = (lines: { caution?: string[]; end?: string[] }, overrides: Breakdown['overrides'] = []) =>
    filmed({
      overrides,
      script: [
        {
          id: 'p',
          text: [],
          shots: [
            { card: 'caution', ...(lines.caution ? { lines: lines.caution } : {}) },
            { card: 'end', ...(lines.end ? { lines: lines.end } : {}) },
          ],
        },
      ],
    })

  it('hold the film back until that is let stand with a reason, and again when the words are others', () => {
    const thanks = told({ end: ['Thanks!'] })
    expect(noticeFindings(thanks.programme, thanks.breakdown)).toMatchObject([
      { code: 'end-card-reworded', problem: 'the end card says “Thanks!” in place of the notices on health, practice and estimates' },
    ])
    const override = {
      id: 'o1',
      finding: 'end-card-reworded',
      problem: 'the end card says “Thanks!” in place of the notices on health, practice and estimates',
      reason: 'for coaches who know them',
      by: 'me',
      when: '2026-11-25',
    }
    const stood = told({ end: ['Thanks!'] }, [override])
    expect(noticeFindings(stood.programme, stood.breakdown)).toEqual([])
    const others = told({ end: ['Bye!'] }, [override])
    expect(noticeFindings(others.programme, others.breakdown).map(({ code }) => code)).toEqual(['end-card-reworded'])
    const start = told({ caution: ['Watch this.'] })
    expect(noticeFindings(start.programme, start.breakdown).map(({ code }) => code)).toEqual(['start-card-reworded'])
  })

  it('take nothing away where a card says the notices whole and more beside them', () => {
    const more = told({
      caution: [cautionText.start, 'Filmed with leave.'],
      end: ['Thanks!', cautionText.practice, cautionText.estimates, cautionText.health],
    })
    expect(noticeFindings(more.programme, more.breakdown)).toEqual([])
    expect(noticesOf(more.breakdown).end).toHaveLength(1)
  })

  it('do not leave the description, where they stand behind a card’s own words', () => {
    expect(noticesOf(told({ end: ['Thanks!'] }).breakdown).end.map(({ text }) => text)).toEqual([
      'Thanks!',
      cautionText.practice,
      cautionText.estimates,
      cautionText.health,
    ])
  })

  it('are read for what they claim, and the notices themselves are not', () => {
    const claimed = told({ caution: [cautionText.start], end: [cautionText.health, 'He was concussed.'] })
    expect(findingsOf(claimed.breakdown, new Map()).map(({ code, sentence }) => [code, sentence])).toEqual([
      ['medical', 'He was concussed.'],
    ])
  })

  it('stand at the end, for four seconds or more', () => {
    const { breakdown } = filmed()
    const last = (shots: NonNullable<Extract<Breakdown['script'][number], { text: unknown }>['shots']>) =>
      filmed({ script: [...breakdown.script.slice(0, 5), { id: 'p3', text: [], shots }] })
    for (const early of [
      last([
        { card: 'end', seconds: '4' },
        { hold: 'c1', at: 20, seconds: '11' },
      ]),
      last([
        { hold: 'c1', at: 20, seconds: '11' },
        { card: 'end', seconds: '1/30' },
      ]),
    ])
      expect(noticeFindings(early.programme, early.breakdown).map(({ code }) => code)).toEqual(['end-card-not-last'])
  })
})

describe('the use of a source', () => {
  it('counts each second of footage once and each second on screen, and gives no verdict', () => {
    const { breakdown, programme } = filmed()
    const [use, ...others] = sourceUses(programme, breakdown, () => table)
    expect(others).toEqual([])
    expect(use).toMatchObject({
      footage: 'f1',
      owner: 'Lantern Yard',
      length_s: 10,
      missing: ['where it is from', 'on what basis it is used'],
    })
    expect(use!.used_s).toBeCloseTo(200 / 30, 6)
    expect(use!.onScreen_s).toBeCloseTo(10 + 100 / 30 + 12 + 11, 6)
    expect(Object.keys(use!)).not.toContain('allowed')
  })
})

describe('long and hostile text', () => {
  it('of ten thousand characters stays one sentence, whole in captions and in the report', () => {
    const { breakdown, programme } = filmed({ script: [{ id: 'p1', text: [long], shots: [{ hold: 'c1', at: 1, seconds: '1' }] }] })
    const sentences = timedSentences(programme, breakdown, new Map())
    expect(long.length).toBe(10_000)
    expect(sentences.map((s) => s.shown)).toEqual([long])
    const captions = captionsOf(breakdown, programme, new Map())
    expect(captions.flatMap((c) => c.lines).join(' ')).toBe(long)
    expect(writeWebVtt(captions)).toContain('word')
  })

  it('is text in the report, with the marks that turn it round shown by name', () => {
    const hostile = '</style><script>alert(1)</script>" onload="x \u202Etxt\u202C'
    const report: EvidenceReport = {
      format: 'claimframe-evidence',
      film: { title: hostile, version: hostile, date: hostile, seconds: 1, file: hostile, sha256: null },
      script: { version: 1, document: null },
      question: hostile,
      method: [hostile],
      counts: { sentences: 1, byClass: {}, confirmed: 0, overridden: 1, open: 2, holding: 1 },
      entries: [
        {
          words: hostile,
          paragraph: hostile,
          from_s: 0,
          to_s: 1,
          classes: ['A'],
          state: 'suggested',
          evidence: [],
          values: [],
          events: [],
          stills: [{ name: hostile, clip: 'c', clipName: hostile, frame: 1, at_s: null, footage: hostile, source: hostile }],
          references: [{ id: 'r1', at: hostile }],
          films: [{ film: hostile, at: hostile, says: hostile }],
          open: [hostile],
          take: hostile,
          takeSha256: null,
          byHand: { suggested: ['I'], by: hostile, when: hostile },
        },
      ],
      elsewhere: [
        {
          part: 'card',
          words: hostile,
          paragraph: hostile,
          classes: ['A'],
          state: 'suggested',
          evidence: [],
          values: [],
          events: [],
          stills: [],
          references: [{ id: 'r1', at: hostile }],
          films: [],
          open: [hostile],
          byHand: null,
          letStand: [{ problem: hostile, reason: hostile }],
        },
      ],
      sets: [],
      clips: [{ id: 'c', name: hostile, bout: hostile, technique: hostile, capture: hostile, state: 'rejected', reason: hostile }],
      sources: [],
      references: [
        {
          id: 'r1',
          text: hostile,
          runs: [{ text: hostile, as: ['italic'] }],
          finding: hostile,
          population: hostile,
          limits: hostile,
          setting: [hostile],
        },
      ],
      open: [{ words: hostile, problem: hostile, holds: true }],
      overrides: [{ finding: hostile, words: hostile, problem: hostile, reason: hostile, by: hostile, when: hostile }],
      corrections: [hostile],
      chapters: { chapters: [], told: [] },
      notices: { start: hostile, end: [{ label: hostile, text: hostile }] },
    }
    const page = evidencePage(report, new Map())
    expect(page).not.toMatch(/<script|<\/style><|" onload="|[\u202a-\u202e]/)
    expect(page.split('&lt;script&gt;').length).toBeGreaterThan(15)
    expect(page).toContain('U+202E')
    expect(page).toContain('suggested, not confirmed')
    // What is open, and what is cited without a reference, is said where it is.
    expect(page).toContain('2 findings are open; 1 holds the film back.')
    expect(page).toContain('<dt>earlier film</dt>')
    const uncited = evidencePage(
      { ...report, entries: report.entries.map((entry) => ({ ...entry, classes: ['F'], references: [] })) },
      new Map(),
    )
    expect(uncited).toContain('no reference is given for it')
    const changed = evidencePage({ ...report, entries: report.entries.map((entry) => ({ ...entry, state: 'to-confirm' })) }, new Map())
    expect(changed).toContain('stated of other words, not confirmed of these')
  })
})

it('an answer says what is lacking instead of guessing', () => {
  expect(answerAt({}, 'how do you know?')).toBe('no-time')
  expect(answerAt({ releases: [] }, '0:05')).toBe('no-release')
  expect(correctionLines(filmed().breakdown)).toEqual([])
})
