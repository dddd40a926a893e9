import { headingPieces } from '../../../app/script/heading-text'
import americanList from 'dictionary-en'
import britishList from 'dictionary-en-gb'
import nspell from 'nspell'
import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { Breakdown } from '../../../app/project/breakdown'
import { checkedWords, inList } from '../../../app/script/spelling/checked-words'
import { ownWords } from '../../../app/script/spelling/own-words'
import { TRADE_WORDS } from '../../../app/script/spelling/trade-words'

/// Held against the general word lists themselves (SCOWL's British and American, by way of Hunspell).

const text = (bytes: Uint8Array): string => new TextDecoder().decode(bytes)
const general = [americanList, britishList].map(({ aff, dic }) => nspell({ aff: text(aff), dic: text(dic) }))
const isGeneral = (word: string): boolean => general.some((each) => each.correct(word))
const words = (line: string): string[] => checkedWords(line).map(({ word }) => word)

describe('the words of a text', () => {
  it('should pass over numbers, ids, addresses, capitals and units', () => {
    expect(words('At 145° ± 3°, f1 and EMGs at 9.81 m/s² (see https://a.org/b or a@b.org): OK?')).toEqual(['At', 'and', 'at', 'see', 'or'])
  })

  it('should come out where they stand, without a possessive or a curly apostrophe', () => {
    const line = 'Varga’s hip doesn’t turn'
    expect(checkedWords(line).map(({ word, from, to }) => [word, line.slice(from, to)])).toEqual([
      ['Varga', 'Varga'],
      ['hip', 'hip'],
      ["doesn't", 'doesn’t'],
      ['turn', 'turn'],
    ])
  })

  it('should never run over a value that stands among them', () => {
    expect(words('knee \uFFFC\uFFFCwide')).toEqual(['knee', 'wide'])
  })
})

describe('the words of the trade', () => {
  it('should each be in lower case, once, and lacking in the general lists', () => {
    expect(new Set(TRADE_WORDS).size).toBe(TRADE_WORDS.length)
    expect(TRADE_WORDS.filter((word) => word !== word.toLowerCase() || !/^\p{L}+$/u.test(word))).toEqual([])
    expect(TRADE_WORDS.filter(isGeneral)).toEqual([])
  })

  it('should leave nothing unknown in the demonstration’s script', () => {
    const demo = Breakdown.parse(JSON.parse(readFileSync('tests/data/demo/two-right-hands.json', 'utf8')))
    const own = ownWords(demo)
    const trade = new Set(TRADE_WORDS)
    const said = demo.script.flatMap((row) =>
      'chapter' in row
        ? headingPieces(row).filter((piece) => typeof piece === 'string')
        : row.text.map((part) => (typeof part === 'string' ? part : 'word' in part ? part.word : '')),
    )
    expect(said.flatMap(words).filter((word) => !inList(own, word) && !inList(trade, word) && !isGeneral(word))).toEqual([])
  })
})

it('should take for granted what a project names and keeps', () => {
  const own = ownWords({
    subjects: [{ id: 's1', name: 'Nela Varga' }],
    clips: [],
    events: [],
    references: [{ id: 'r', csl: { type: 'book', author: [{ family: 'Okoro', given: 'Ada' }] } }],
    vocabulary: ['kazushi'],
  })
  expect([...own].sort()).toEqual(['ada', 'kazushi', 'nela', 'okoro', 'varga'])
  expect(inList(own, 'VARGA')).toBe(true)
})
