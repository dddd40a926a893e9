/// Handbook tables of body segments: each segment's share of the body's mass, and where its
/// centre lies between its ends, as a share of the way from the proximal one.

export type SegmentTable = 'de-leva-female' | 'de-leva-male' | 'winter'

export interface Segment {
  readonly name: string
  /// Our landmark places (without side) of the proximal and distal end.
  readonly from: string
  readonly to: string
  /// Once for the left and once for the right side.
  readonly paired: boolean
  /// Share of the whole body's mass, of one side.
  readonly mass: number
  /// Share of the way from `from` to `to`.
  readonly centre: number
}

export interface SegmentModel {
  readonly title: string
  readonly source: string
  readonly segments: readonly Segment[]
}

const DE_LEVA = 'de Leva 1996, J Biomech 29:1223–1230 (after Zatsiorsky), ends moved to joint centres'

/// Head and trunk from mid-shoulder to mid-hip (de Leva's "Trunk 3", MIDS–MIDH) and head from
/// vertex to cervicale ("Head 2"): ends that can be placed on a picture.
const deLeva = (v: {
  head: readonly [number, number]
  trunk: readonly [number, number]
  arm: readonly [number, number]
  forearm: readonly [number, number]
  hand: readonly [number, number]
  thigh: readonly [number, number]
  shank: readonly [number, number]
  foot: readonly [number, number]
}): readonly Segment[] => [
  { name: 'head', from: 'head.top', to: 'neck', paired: false, mass: v.head[0], centre: v.head[1] },
  { name: 'trunk', from: 'shoulder.mid', to: 'hip.mid', paired: false, mass: v.trunk[0], centre: v.trunk[1] },
  { name: 'upper arm', from: 'shoulder', to: 'elbow', paired: true, mass: v.arm[0], centre: v.arm[1] },
  { name: 'forearm', from: 'elbow', to: 'wrist', paired: true, mass: v.forearm[0], centre: v.forearm[1] },
  { name: 'hand', from: 'wrist', to: 'fist', paired: true, mass: v.hand[0], centre: v.hand[1] },
  { name: 'thigh', from: 'hip', to: 'knee', paired: true, mass: v.thigh[0], centre: v.thigh[1] },
  { name: 'shank', from: 'knee', to: 'ankle', paired: true, mass: v.shank[0], centre: v.shank[1] },
  { name: 'foot', from: 'heel', to: 'toe', paired: true, mass: v.foot[0], centre: v.foot[1] },
]

export const segmentModels: Readonly<Record<SegmentTable, SegmentModel>> = {
  'de-leva-female': {
    title: 'de Leva, women',
    source: DE_LEVA,
    segments: deLeva({
      head: [0.0668, 0.4841],
      trunk: [0.4257, 0.3782],
      arm: [0.0255, 0.5754],
      forearm: [0.0138, 0.4559],
      hand: [0.0056, 0.7474],
      thigh: [0.1478, 0.3612],
      shank: [0.0481, 0.4352],
      foot: [0.0129, 0.4014],
    }),
  },
  'de-leva-male': {
    title: 'de Leva, men',
    source: DE_LEVA,
    segments: deLeva({
      head: [0.0694, 0.5002],
      trunk: [0.4346, 0.431],
      arm: [0.0271, 0.5772],
      forearm: [0.0162, 0.4574],
      hand: [0.0061, 0.79],
      thigh: [0.1416, 0.4095],
      shank: [0.0433, 0.4395],
      foot: [0.0137, 0.4415],
    }),
  },
  winter: {
    title: 'Winter (after Dempster)',
    source: 'Winter 2009, Biomechanics and Motor Control of Human Movement, Table 4.1',
    segments: [
      { name: 'trunk, head and neck', from: 'hip.mid', to: 'shoulder.mid', paired: false, mass: 0.578, centre: 0.66 },
      { name: 'upper arm', from: 'shoulder', to: 'elbow', paired: true, mass: 0.028, centre: 0.436 },
      { name: 'forearm and hand', from: 'elbow', to: 'wrist', paired: true, mass: 0.022, centre: 0.682 },
      { name: 'thigh', from: 'hip', to: 'knee', paired: true, mass: 0.1, centre: 0.433 },
      { name: 'leg', from: 'knee', to: 'ankle', paired: true, mass: 0.0465, centre: 0.433 },
      { name: 'foot', from: 'ankle', to: 'toe', paired: true, mass: 0.0145, centre: 0.5 },
    ],
  },
}

/// Every segment of a model with its ends' full names.
export const sidedSegments = (table: SegmentTable): readonly (Segment & { readonly title: string })[] =>
  segmentModels[table].segments.flatMap((s) =>
    s.paired
      ? (['left', 'right'] as const).map((side) => ({ ...s, title: `${side} ${s.name}`, from: `${s.from}.${side}`, to: `${s.to}.${side}` }))
      : [{ ...s, title: s.name }],
  )
