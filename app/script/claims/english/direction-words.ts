import type { MeasureKind } from '../../../project/question'

/// What words say of a greater and of a smaller value of each kind of measure, its sign left aside.

export interface DirectionWords {
  /// Words that stand alone: "straighter".
  readonly up: readonly string[]
  readonly down: readonly string[]
  /// Roots that go with "more" and "less", before or behind: "more bent", "leans less".
  readonly moreUp?: readonly string[]
  readonly moreDown?: readonly string[]
  /// What a greater value is, for who reads of it.
  readonly says: string
}

const LENGTH = { up: ['wider', 'longer', 'broader', 'larger', 'bigger', 'greater'], down: ['narrower', 'shorter', 'smaller'], says: 'the longer, the larger' } as const
const MOVED = { up: ['further', 'farther', 'longer', 'larger', 'bigger', 'greater'], down: ['shorter', 'smaller'], moreUp: ['move', 'travel', 'shift', 'drift', 'movement', 'travelling'], says: 'the further, the larger' } as const
const LASTS = { up: ['longer', 'slower', 'later'], down: ['shorter', 'faster', 'quicker', 'sooner', 'earlier'], moreUp: ['time', 'frame'], says: 'the slower, the larger' } as const
const FAST = { up: ['faster', 'quicker'], down: ['slower'], moreUp: ['fast', 'quick', 'quickly', 'speed'], moreDown: ['slow', 'slowly'], says: 'the faster, the larger' } as const

export const DIRECTIONS: Readonly<Partial<Record<MeasureKind, DirectionWords>>> = {
  'joint-angle': {
    up: ['straighter'], down: [], moreUp: ['straight', 'straighten', 'straightened', 'extend', 'extended', 'extension'], moreDown: ['bend', 'bent', 'flex', 'flexed', 'flexion', 'fold', 'folded'],
    says: 'the straighter, the larger',
  },
  'line-lean': { up: [], down: ['steeper', 'uprighter'], moreUp: ['lean', 'leaning', 'leant', 'tilt', 'tilted', 'inclined', 'inclination'], moreDown: ['upright', 'vertical', 'erect', 'steep', 'steeply'], says: 'the more upright, the smaller' },
  'separation': { up: [], down: [], moreUp: ['separation', 'separate', 'separated', 'twist', 'twisted'], says: 'the further apart, the larger' },
  'distance': LENGTH,
  'step-off-line': { up: ['wider', 'further', 'farther'], down: ['narrower'], says: 'the further off, the larger' },
  'displacement': MOVED,
  'head-displacement': MOVED,
  'centre-of-mass': MOVED,
  'path': MOVED,
  'time-between': LASTS,
  'frame-count': LASTS,
  'speed': FAST,
  'angular-rate': FAST,
  'peak-time': { up: ['later'], down: ['earlier', 'sooner'], says: 'the later, the larger' },
}

/// Beside "angle", of kinds that are one.
export const ANGLE_WORDS = { up: ['larger', 'bigger', 'greater', 'wider', 'higher'], down: ['smaller', 'narrower', 'lower', 'lesser'] } as const

/// What a moment is called, and what is later or earlier of it.
export const MOMENT_WORDS: ReadonlySet<string> = new Set(['later', 'earlier', 'sooner'])

/// A steep trunk is upright to one and bent over to another.
export const EITHER_OF_TRUNK: ReadonlySet<string> = new Set(['steeper', 'steep', 'steeply'])

/// Words that may be said of a person, a hall or a film as well as of what was measured: what was measured must be named beside them.
export const OF_ANYTHING: ReadonlySet<string> = new Set(['longer', 'shorter', 'wider', 'broader', 'narrower', 'larger', 'bigger', 'greater', 'smaller', 'further', 'farther', 'higher', 'lower', 'lesser'])
/// Words of time, which name it where it was measured.
export const OF_TIME: ReadonlySet<string> = new Set(['time', 'take', 'last', 'interval', 'delay', 'gap', 'wait', 'duration', 'pause'])
export const PEOPLE: ReadonlySet<string> = new Set(['he', 'she', 'they', 'him', 'them', 'fighter', 'boxer', 'man', 'woman', 'who', 'i', 'we', 'you'])

/// What "the first" and "the second" are of where films are compared.
export const CASE_NOUNS: ReadonlySet<string> = new Set(['hand', 'punch', 'kick', 'jab', 'cross', 'hook', 'uppercut', 'overhand', 'strike', 'shot', 'blow', 'one', 'clip', 'bout', 'fight', 'case', 'time', 'take', 'finish'])
/// Of those, what is thrown: a word behind it speaks of it, and not of a joint or a line elsewhere on the body.
export const THROWN: ReadonlySet<string> = new Set(['hand', 'punch', 'kick', 'jab', 'cross', 'hook', 'uppercut', 'overhand', 'strike', 'shot', 'blow'])
export const CASE_LEADS: ReadonlySet<string> = new Set(['in', 'on', 'of', 'for', 'with', 'at', 'during'])
export const DETERMINERS: ReadonlySet<string> = new Set(['the', 'this', 'that', 'her', 'his', 'their'])

/// Words of change within one case, of more than two, or of sides of the picture, where more is no comparison of the two.
export const NOT_OF_TWO: ReadonlySet<string> = new Set([
  'beyond', 'get', 'gets', 'got', 'getting', 'become', 'becomes', 'became', 'grow', 'grows', 'grew', 'growing', 'gradually', 'increasingly', 'ever', 'and', 'both', 'all', 'each', 'every', 'any', 'third', 'forward', 'forwards', 'backward', 'backwards', 'back', 'sideways', 'towards', 'toward', 'away',
  'compared', 'against', 'unlike', 'versus', 'half', 'twice', 'double', 'times', 'average', 'usual', 'others', 'because', 'when', 'while', 'since', 'before', 'after', 'during', 'from', 'over', 'out', 'open',
])

/// Parts of a body by the point that shows them, besides the point's own name.
export const SHOWN_BY: Readonly<Record<string, readonly string[]>> = {
  knee: ['leg'],
  elbow: ['arm'],
  wrist: ['hand', 'fist', 'glove'],
  fist: ['hand', 'glove', 'knuckle'],
  ankle: ['foot', 'stance', 'base'],
  heel: ['foot', 'stance'],
  toe: ['foot', 'stance'],
  'head.top': ['head'],
  chin: ['head', 'jaw'],
}
export const TRUNK: readonly string[] = ['trunk', 'torso', 'body', 'spine', 'upper body']
/// Roots of body parts that a sentence may speak of.
export const BODY_PARTS: ReadonlySet<string> = new Set([
  'head', 'chin', 'jaw', 'neck', 'shoulder', 'arm', 'elbow', 'forearm', 'wrist', 'hand', 'fist', 'glove', 'knuckle', 'chest', 'rib', 'trunk', 'torso', 'body', 'spine', 'waist', 'hip', 'pelvis', 'thigh', 'leg', 'knee', 'shin', 'calf', 'ankle', 'heel', 'foot', 'toe', 'stance',
  'base', 'guard', 'step', 'punch', 'jab', 'kick', 'cross', 'hook', 'uppercut', 'overhand', 'strike', 'shot', 'blow', 'swing', 'turn', 'pivot', 'contact', 'landing', 'reach',
])
