import type { Side } from '../../app/body/landmark-name'
import type { Event } from '../../app/project/film'

/// What a person chooses and types to ask for a measure.

/// How a case of a count was seen; '': it is none of the set.
export type CaseState = '' | 'seen' | 'not seen' | 'not usable'
export interface Case {
  readonly state: CaseState
  readonly note: string
}

/// What a person has chosen or typed, as it stands in the fields.
export interface Choices {
  readonly limb: string
  /// Two events of the clip.
  readonly from: string
  readonly to: string
  readonly against: 'hall' | 'trunk'
  readonly turns: 'either' | 'opening' | 'closing'
  readonly table: 'de-leva-female' | 'de-leva-male' | 'winter' | 'hip-midpoint'
  /// Two measures.
  readonly first: string
  readonly second: string
  /// How near counts as the same.
  readonly delta: string
  readonly what: string
  readonly value: string
  readonly unit: string
  /// How a limb was seen that is judged by eye; and 1 σ of what is judged, empty: as it is taken to be.
  readonly seen: 'planar' | 'oblique' | 'transverse'
  readonly u: string
  readonly set: string
  readonly cases: Readonly<Record<string, Case>>
  /// Frames on which hips and shoulders face the camera, and which side of each is nearer to it.
  readonly hipsFrame: string
  readonly shouldersFrame: string
  readonly nearHip: Side | ''
  readonly nearShoulder: Side | ''
  /// The person towards whom a line on the floor goes, and that the foot stands flat.
  readonly other: string
  readonly planted: boolean
}

export const noChoices: Choices = {
  limb: '',
  from: '',
  to: '',
  against: 'hall',
  turns: 'either',
  table: 'winter',
  first: '',
  second: '',
  delta: '',
  what: '',
  value: '',
  unit: '°',
  seen: 'oblique',
  u: '',
  set: '',
  cases: {},
  hipsFrame: '',
  shouldersFrame: '',
  nearHip: '',
  nearShoulder: '',
  other: '',
  planted: false,
}

/// Where it is asked, and what was chosen.
export interface Asked extends Choices {
  readonly id: string
  readonly clip: string
  readonly subject: string
  readonly frame: number
  /// The clip's.
  readonly events: readonly Event[]
  readonly lead: Side | null
  /// Places of the hall that were followed by themselves.
  readonly background: readonly string[]
}
