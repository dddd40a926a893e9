/// A unit as it is written behind a number and as it is said.
export interface UnitWords {
  /// Written forms, matched exactly as they stand ("ms" is not "MS").
  readonly symbols: readonly string[]
  readonly one: string
  readonly many: string
}

/// The units that breakdowns use. Said forms are plain British English; common practice, no source.
export const UNITS: readonly UnitWords[] = [
  { symbols: ['°/s²', 'deg/s²'], one: 'degree per second squared', many: 'degrees per second squared' },
  { symbols: ['°/s', 'deg/s'], one: 'degree per second', many: 'degrees per second' },
  { symbols: ['m/s²'], one: 'metre per second squared', many: 'metres per second squared' },
  { symbols: ['m/s'], one: 'metre per second', many: 'metres per second' },
  { symbols: ['km/h'], one: 'kilometre an hour', many: 'kilometres an hour' },
  { symbols: ['°', 'º', 'deg'], one: 'degree', many: 'degrees' },
  { symbols: ['ms'], one: 'millisecond', many: 'milliseconds' },
  { symbols: ['min'], one: 'minute', many: 'minutes' },
  { symbols: ['mm'], one: 'millimetre', many: 'millimetres' },
  { symbols: ['cm'], one: 'centimetre', many: 'centimetres' },
  { symbols: ['kg'], one: 'kilogram', many: 'kilograms' },
  { symbols: ['Hz'], one: 'hertz', many: 'hertz' },
  { symbols: ['fps'], one: 'frame a second', many: 'frames a second' },
  { symbols: ['px'], one: 'pixel', many: 'pixels' },
  { symbols: ['N'], one: 'newton', many: 'newtons' },
  { symbols: ['W'], one: 'watt', many: 'watts' },
  { symbols: ['J'], one: 'joule', many: 'joules' },
  { symbols: ['s', 'sec'], one: 'second', many: 'seconds' },
  { symbols: ['m'], one: 'metre', many: 'metres' },
  { symbols: ['%'], one: 'per cent', many: 'per cent' },
  { symbols: ['×'], one: 'times', many: 'times' },
]

/// Unit words that stay with their number on one caption line ("three frames").
export const UNIT_NOUNS: readonly string[] = [
  'degree',
  'degrees',
  'second',
  'seconds',
  'millisecond',
  'milliseconds',
  'minute',
  'minutes',
  'frame',
  'frames',
  'metre',
  'metres',
  'meter',
  'meters',
  'centimetre',
  'centimetres',
  'centimeter',
  'centimeters',
  'millimetre',
  'millimetres',
  'pixel',
  'pixels',
  'hertz',
  'percent',
  'newton',
  'newtons',
  'watt',
  'watts',
  'joule',
  'joules',
  'times',
  'kilogram',
  'kilograms',
  'pound',
  'pounds',
  'inch',
  'inches',
  'foot',
  'feet',
]
