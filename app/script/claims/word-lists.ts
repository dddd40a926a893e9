/// What the rules look for, as data, so that another language can stand beside this one. Case is folded.

/// Numbers as words, up to what is said of angles and times.
export const NUMBER_WORDS: readonly string[] = [
  'zero', 'half a', 'half an', 'a quarter of a', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten', 'eleven', 'twelve', 'thirteen', 'fourteen', 'fifteen',
  'sixteen', 'seventeen', 'eighteen', 'nineteen', 'twenty', 'thirty', 'forty', 'fifty', 'sixty', 'seventy', 'eighty', 'ninety', 'hundred', 'thousand', 'point',
]

/// Units that make a number a measurement: behind digits, and behind numbers in words as well. Counts ("three times"),
/// the camera's rate and the display's speed are none. "Two feet" are two feet; "2 feet" and "two feet away" are a length.
export const MEASURED_SYMBOLS: readonly string[] = [
  '°', 'º', 'deg', '°/s', '°/s²', 'rad/s', 'rad/s²', 'rpm', 'ms', 's', 'sec', 'm/s', 'm/s²', 'km/h', 'kmh', 'kph', 'mph', 'mm', 'cm', 'm', 'km', 'ft', 'foot', 'feet', '%', 'px', 'x', '×', 'g', 'kg', 'lb', 'lbs', 'N', 'kN', 'Nm', 'W', 'kW', 'J', 'kJ', 'psi',
]
export const MEASURED_NOUNS: readonly string[] = [
  'degree', 'degrees', 'millisecond', 'milliseconds', 'second', 'seconds', 'frame', 'frames', 'metre', 'metres', 'meter', 'meters', 'centimetre', 'centimetres', 'centimeter',
  'centimeters', 'millimetre', 'millimetres', 'inch', 'inches', 'percent', 'per cent', 'mile', 'miles', 'kilometre', 'kilometres', 'kilometer', 'kilometers', 'yard', 'yards', 'gram', 'grams', 'kilogram', 'kilograms', 'kilo', 'kilos', 'pound', 'pounds', 'radian', 'radians',
  'feet away', 'feet apart', 'feet wide', 'feet long', 'feet high', 'feet across', 'feet further', 'feet closer', 'feet behind', 'feet from', 'foot away', 'foot apart', 'foot wide', 'foot further', 'foot closer', 'newton', 'newtons', 'watt', 'watts', 'joule', 'joules', 'shoulder width', 'shoulder widths',
  'head height', 'head heights', 'stance length', 'stance lengths', 'trunk length', 'trunk lengths',
]
/// What follows a unit and makes it no measurement: "30 frames a second", "a second clip", "4x slow motion", "3 x 2".
export const NOT_MEASURED: readonly RegExp[] = [/^ (?:a|per) second/i, /^ (?:clip|bout|camera|strike|punch|hand|fighter|view|time|look)/i, /^ (?:slow|slower|slowed|speed|zoom)(?![\p{L}])/iu, /^ ?\d/]

/// Words that claim more certainty than an error bar allows.
export const CERTAIN: readonly string[] = ['exactly', 'clearly', 'precisely', 'definitely', 'certainly', 'undoubtedly', 'without doubt', 'proves', 'proven', 'obviously', 'without question', 'no doubt', 'plainly', 'unmistakably']
/// Words that put one event before another.
export const ORDERING: readonly string[] = ['before', 'after', 'first', 'then', 'ahead of', 'leads', 'led', 'follows', 'followed', 'precedes', 'preceded', 'earlier', 'later', 'sooner']
/// Words that say themselves that it cannot be told.
export const OPEN: readonly string[] = [
  'not resolved', 'unresolved', 'cannot tell', "can't tell", 'could not tell', "couldn't tell", 'cannot be told', "can't be told", 'could not be told', 'cannot say', "can't say", 'cannot be said', 'cannot know', 'no telling',
  'not measured', 'cannot be measured', "can't be measured", 'could not be measured', 'not measurable', 'cannot be given', 'unclear', 'not clear', 'not known', 'too close to call', 'remains open', 'is left open', 'nothing tells them apart',
  'nothing tells the two apart',
]
/// Words that keep a value by eye or by range from sounding measured.
export const ABOUT: readonly string[] = ['about', 'roughly', 'around', 'by eye', 'looks like', 'estimate', 'approximately', 'or so']
/// Words that leave a cause open: what a reference allows, never more.
export const CAREFUL: readonly string[] = ['consistent with', 'thought to', 'may', 'might', 'could', 'suggests', 'suggest', 'would fit', 'in line with']

/// Words that say of two things that they are alike.
export const ALIKE: readonly string[] = ['the same', 'identical', 'identically', 'similar', 'similarly', 'alike', 'equal', 'equally', 'just as', 'consistent', 'indistinguishable', 'unchanged', 'matches', 'match']
/// Words that say of two things that they are not alike, and no more.
const UNLIKE_EITHER_WAY: readonly string[] = ['different', 'differently', 'differ', 'differs', 'differed', 'unlike', 'difference']
/// Words that say of one of two things that it is more than the other, or less. A word in -er before "than" does so too.
const UNLIKE_ONE_WAY: readonly string[] = [
  'more', 'less', 'further', 'farther', 'straighter', 'deeper', 'higher', 'lower', 'wider', 'narrower', 'bigger', 'larger', 'smaller', 'longer', 'shorter', 'taller', 'faster', 'slower',
  'quicker', 'sooner', 'earlier', 'later', 'harder', 'softer', 'closer', 'nearer', 'flatter', 'steeper', 'tighter', 'looser', 'heavier', 'lighter', 'sharper', 'greater', 'squarer', 'stiffer',
]
export const UNLIKE: readonly string[] = [...UNLIKE_ONE_WAY, ...UNLIKE_EITHER_WAY]
/// Words that take back what follows: "no more bent", "not the same".
const TAKING_BACK = /(?:(?<!\p{L})(?:not|no|never|neither|nor|hardly|cannot)|n't) (?:\p{L}+ )?$/iu

/// Words that leave no case out.
export const ALWAYS: readonly string[] = ['always', 'never', 'every time', 'every single', 'each time', 'without exception', 'without fail', 'invariably', 'whenever', 'in every', 'all the time']
/// Words for every case of a set that is looked at.
export const ALL: readonly string[] = ['in all', 'all of them', 'all of these', 'all the clips', 'every one', 'each of them', 'each one', 'both times', 'in both', 'all two', 'all three', 'all four', 'all five']
/// Words for most cases, and for a way that somebody has.
export const USUALLY: readonly string[] = ['usually', 'mostly', 'most of the time', 'typically', 'generally', 'as a rule', 'normally', 'habit', 'habitually', 'habitual', 'signature', 'trademark', 'tends to', 'keeps doing', 'nearly always', 'almost always']

const plain = (text: string): string => text.replaceAll('\u2019', "'")
const standing = (words: readonly string[], flags: string): RegExp => new RegExp(`(?<!\\p{L})(?:${words.join('|')})(?!\\p{L})`, flags)

/// The first of `words` that stands in a text, whatever its case; null where none does.
export const wordIn = (text: string, words: readonly string[]): string | null => words.find((word) => standing([word], 'iu').test(plain(text))) ?? null

/// The same, where the word before does not take it back: "not always" says nothing of all.
export const saidIn = (text: string, words: readonly string[]): string | null => {
  const said = plain(text)
  return words.find((word) => [...said.matchAll(standing([word], 'giu'))].some((match) => !TAKING_BACK.test(said.slice(0, match.index)))) ?? null
}

/// What a text says of two things. `bounded`: of one that it is not more than the other, or not less: it may be as much, or less.
export type ComparedAs = 'alike' | 'unlike' | 'bounded'

/// What a text says of two things, and with which words; null where it says nothing of the kind, or several. "Not more bent" bounds
/// one of them; "no more and no less" says that they are alike.
export function comparedAs(text: string): { readonly as: ComparedAs; readonly words: string } | null {
  const said = plain(text)
  const heard = (words: readonly string[], as: ComparedAs, takenBack: ComparedAs): { as: ComparedAs; words: string }[] =>
    [...said.matchAll(standing(words, 'giu'))].map((match) => ({ as: TAKING_BACK.test(said.slice(0, match.index)) ? takenBack : as, words: match[0] }))
  const found = [
    ...heard(ALIKE, 'alike', 'unlike'),
    ...heard([...UNLIKE_ONE_WAY, '(?!other|rather)\\p{L}+er than'], 'unlike', 'bounded'),
    ...heard(UNLIKE_EITHER_WAY, 'unlike', 'alike'),
  ]
  const [first] = found
  if (!first || !found.every(({ as }) => as === first.as)) return null
  const isBothWays = first.as === 'bounded' && ['more', 'less'].every((way) => found.some(({ words }) => words.toLowerCase() === way))
  return isBothWays ? { ...first, as: 'alike' } : first
}
