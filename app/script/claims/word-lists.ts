/// What the rules look for, as data, so that another language can stand beside this one. Case is folded.

/// Numbers as words, up to what is said of angles and times.
export const NUMBER_WORDS: readonly string[] = [
  'zero', 'half a', 'half an', 'a quarter of a', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten', 'eleven', 'twelve', 'thirteen', 'fourteen', 'fifteen',
  'sixteen', 'seventeen', 'eighteen', 'nineteen', 'twenty', 'thirty', 'forty', 'fifty', 'sixty', 'seventy', 'eighty', 'ninety', 'hundred', 'thousand', 'point',
]

/// Units that make a number a measurement. Counts ("three times"), the camera's rate and the display's
/// speed are none.
export const MEASURED_SYMBOLS: readonly string[] = ['°', 'º', 'deg', '°/s', '°/s²', 'ms', 's', 'sec', 'm/s', 'm/s²', 'km/h', 'mm', 'cm', 'm', '%', 'px', 'N', 'W', 'J']
export const MEASURED_NOUNS: readonly string[] = [
  'degree', 'degrees', 'millisecond', 'milliseconds', 'second', 'seconds', 'frame', 'frames', 'metre', 'metres', 'meter', 'meters', 'centimetre', 'centimetres', 'centimeter',
  'centimeters', 'millimetre', 'millimetres', 'inch', 'inches', 'percent', 'per cent', 'newton', 'newtons', 'watt', 'watts', 'joule', 'joules', 'shoulder width', 'shoulder widths',
  'head height', 'head heights', 'stance length', 'stance lengths', 'trunk length', 'trunk lengths',
]
/// What follows a unit and makes it no measurement: "30 frames a second", "a second clip".
export const NOT_MEASURED: readonly RegExp[] = [/^ (?:a|per) second/i, /^ (?:clip|bout|camera|strike|punch|hand|fighter|view|time|look)/i]

/// Words that claim more certainty than an error bar allows.
export const CERTAIN: readonly string[] = ['exactly', 'clearly', 'precisely', 'definitely', 'certainly', 'undoubtedly', 'without doubt', 'proves', 'proven', 'obviously', 'without question', 'no doubt', 'plainly', 'unmistakably']
/// Words that put one event before another.
export const ORDERING: readonly string[] = ['before', 'after', 'first', 'ahead of', 'leads', 'follows', 'earlier', 'later']
/// Words that take an order back or leave it open.
export const OPEN: readonly string[] = ['not resolved', 'cannot tell', "can't tell", 'cannot say', 'whether', 'unclear', 'too close', 'not measured', 'nothing']
/// Words that keep a value by eye or by range from sounding measured.
export const ABOUT: readonly string[] = ['about', 'roughly', 'around', 'by eye', 'looks like', 'estimate', 'approximately', 'or so']
/// Words that leave a cause open: what a reference allows, never more.
export const CAREFUL: readonly string[] = ['consistent with', 'thought to', 'may', 'might', 'could', 'suggests', 'suggest', 'would fit', 'in line with']

/// The first of `words` that stands in a text, whatever its case; null where none does.
export const wordIn = (text: string, words: readonly string[]): string | null => words.find((word) => new RegExp(`(?<![\\p{L}])${word}(?![\\p{L}])`, 'iu').test(text)) ?? null
