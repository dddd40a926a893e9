import { z } from 'zod'
import { Id, Line, Prose } from '../project/fields'
import { SharedPictures } from '../project/shared-pictures'
import { call } from './call'
import { FilePath } from './project-calls'
import { Refusal } from './refusal'

export const Ratio = z.strictObject({ n: z.int(), d: z.int().min(1) })
export const JobId = z.string().max(80)

/// Something that a person should know of a film before measuring on it, in plain words.
/// `note` informs; `warn` changes what may be measured.
export const FilmWarning = z.strictObject({ code: z.string(), weight: z.enum(['note', 'warn']), text: z.string() })

/// A film as the project uses it.
/// `reading`: its frames are still being read (`job`); indices exist once it is `ready`.
/// `missing`, `changed`: find it again with `footage.relink`; `refusal` says more.
export const FilmFacts = z.strictObject({
  id: Id,
  file: z.string(),
  state: z.enum(['reading', 'ready', 'missing', 'changed', 'unreadable']),
  refusal: Refusal.nullable(),
  job: JobId.nullable(),
  /// Size of the upright picture with square pixels, in which every point is given.
  width: z.int().nullable(),
  height: z.int().nullable(),
  /// Number of frames; null while they are being read.
  frames: z.int().nullable(),
  /// Exact rate; null for a variable rate, or while the frames are being read.
  rate: Ratio.nullable(),
  variable: z.boolean(),
  duration_s: z.number().nullable(),
  codec: z.string().nullable(),
  bytes: z.number().nullable(),
  sound: z.boolean(),
  /// How its stored pictures become what the render shows: the matrix and range of their colours (as the render takes
  /// them), the clockwise turn that makes them upright. `prepared`: they are deinterlaced or tone-mapped on the way, so
  /// a window shows stand-in and stills in place of what it decodes itself. Null while that is not known.
  coding: z
    .strictObject({
      matrix: z.enum(['bt709', 'bt601', 'smpte240m', 'bt2020', 'fcc']),
      fullRange: z.boolean(),
      turn: z.union([z.literal(0), z.literal(90), z.literal(180), z.literal(270)]),
      prepared: z.boolean(),
    })
    .nullable(),
  /// Which of a frame's two fields was shot first, as the file declares it; null: it declares none, or the film is not known yet.
  fields: z.enum(['top', 'bottom']).nullable(),
  /// Rate at which the camera says it shot, where it says so.
  captureRate: Ratio.nullable(),
  warnings: z.array(FilmWarning),
  /// What earlier films of the project seem to show as well; empty while that is not known, and for the first one.
  shared: z.array(SharedPictures),
  /// The small stand-in of key frames only, for stepping: see `proxyAddress`.
  proxy: z.enum(['none', 'making', 'ready']),
})
export type FilmFacts = z.infer<typeof FilmFacts>

/// When each frame is shown. Index = frame; times are whole numbers of `base` seconds, rising.
export const FilmTable = z.strictObject({
  id: Id,
  base: Ratio,
  pts: z.array(z.number()),
  end: z.number(),
  rate: Ratio.nullable(),
  picture: z.strictObject({ width: z.int(), height: z.int() }),
  /// Frames at which decoding can start.
  keyframes: z.array(z.int()),
})
export type FilmTable = z.infer<typeof FilmTable>

/// A stretch between two likely cuts. `from` included, `to` excluded.
export const Piece = z.strictObject({
  from: z.int(),
  to: z.int(),
  looks: z.enum(['live', 'replay', 'graphic', 'unsure']),
  because: z.string(),
})
export type Piece = z.infer<typeof Piece>

const ofFootage = z.strictObject({ footage: Id })

export const footageCalls = {
  'footage.add': call(
    z.strictObject({
      files: z.array(FilePath).min(1).max(100),
      source: z
        .strictObject({
          owner: Line.optional(),
          where: Line.optional(),
          when: Line.optional(),
          basis: Prose.optional(),
          credit: Line.optional(),
        })
        .optional(),
    }),
    z.strictObject({
      added: z.array(z.strictObject({ id: Id, file: z.string() })),
      refused: z.array(z.strictObject({ file: z.string(), refusal: Refusal })),
      /// Likely the same film as one that is there already, by content.
      same: z.array(z.strictObject({ file: z.string(), footage: Id })),
    }),
    'Gathers films. One that lies outside the project’s folder is linked into its `footage` folder, or copied where a link cannot be had (a job, then; `footage` events follow); originals are never altered. Each film is one edit, and undone like any other.',
  ),
  'footage.facts': call(
    z.strictObject({}),
    z.strictObject({ films: z.array(FilmFacts) }),
    'Every film of the project, as known so far. A `film` event follows whenever one becomes known better. Where there are two films or more, jobs of the kind `likeness` look whether they show the same pictures.',
  ),
  'footage.table': call(
    ofFootage,
    FilmTable,
    'When each frame of a film is shown. Refused with `still-reading`, `file-missing`, `footage-changed`.',
  ),
  'footage.pieces': call(
    ofFootage,
    z.strictObject({ state: z.enum(['reading', 'ready']), job: JobId.nullable(), pieces: z.array(Piece) }),
    'Likely cuts, as the pieces between them. The first asking starts a job; ask again when it is done.',
  ),
  'footage.proxy': call(
    ofFootage,
    z.strictObject({ state: z.enum(['making', 'ready']), job: JobId.nullable() }),
    'Makes the small stand-in of a film (every frame a key frame, 960 pixels wide at most, same times) where it is not there yet.',
  ),
  'footage.fields': call(
    z.strictObject({ footage: Id, first: z.enum(['top', 'bottom']) }),
    z.strictObject({ job: JobId }),
    'Makes a film of the fields of an interlaced one, each a picture at its own time, and adds it to the project: twice as many frames, an event’s bracket half as wide. `first`: the field that was shot first. The film itself stays as it is. One edit, and undone like any other.',
  ),
  'footage.relink': call(
    z.strictObject({ footage: Id, file: FilePath }),
    FilmFacts,
    'Takes a moved film back by its content. Refused with `footage-changed` when the frames are not the same ones (another encoding of it).',
  ),
} as const
