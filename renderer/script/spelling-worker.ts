import nspell, { type Speller } from 'nspell'
import americanRules from '../../node_modules/dictionary-en/index.aff?url&no-inline'
import american from '../../node_modules/dictionary-en/index.dic?url&no-inline'
import britishRules from '../../node_modules/dictionary-en-gb/index.aff?url&no-inline'
import british from '../../node_modules/dictionary-en-gb/index.dic?url&no-inline'
import { TRADE_WORDS } from '../../app/script/spelling/trade-words'

/// The worker that knows how words are spelt: British and American lists (SCOWL, by way of Hunspell), and the trade's.

export type ToSpelling = { readonly look: readonly string[] } | { readonly suggest: string }
export type FromSpelling =
  | { readonly unknown: readonly string[]; readonly of: readonly string[] }
  | { readonly suggestions: readonly string[]; readonly for: string }

const MOST_SUGGESTIONS = 5
const text = async (address: string): Promise<string> => (await fetch(address)).text()
const speller = async (rules: string, words: string): Promise<Speller> => nspell({ aff: await text(rules), dic: await text(words) })

const spellers = Promise.all([speller(britishRules, british), speller(americanRules, american)]).then((both) => {
  for (const each of both) for (const word of TRADE_WORDS) each.add(word)
  return both
})
const tell = (news: FromSpelling): void => self.postMessage(news)

self.onmessage = async ({ data }: MessageEvent<ToSpelling>): Promise<void> => {
  const both = await spellers
  if ('look' in data) return tell({ unknown: data.look.filter((word) => !both.some((each) => each.correct(word))), of: data.look })
  const [first, second] = both.map((each) => each.suggest(data.suggest)) as [string[], string[]]
  const mixed = first.flatMap((word, at) => [word, ...(second[at] === undefined ? [] : [second[at]])])
  tell({ suggestions: [...new Set([...mixed, ...second])].slice(0, MOST_SUGGESTIONS), for: data.suggest })
}
