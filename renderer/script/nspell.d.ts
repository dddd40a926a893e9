/// What is used of nspell: a speller for a Hunspell dictionary.
declare module 'nspell' {
  interface Speller {
    correct(word: string): boolean
    suggest(word: string): string[]
    add(word: string): Speller
  }
  export default function nspell(dictionary: { readonly aff: string; readonly dic: string }): Speller
}
