import { z } from 'zod'
import { Edit as EditSchema, SentEdit as SentEditSchema, type Edit, type SentEdit } from '../edit/edit'
import type { EditPlace } from '../edit/place-of-edit'
import { call } from './call'

/// An edit as app/edit has it; the schema alone would let go of what is read-only in it.
const EditOnTheWay = EditSchema as unknown as z.ZodType<Edit, Edit>
const SentEditOnTheWay = SentEditSchema as unknown as z.ZodType<SentEdit, SentEdit>

const Place = z.strictObject({
  room: z.enum(['script', 'footage', 'bench', 'narration', 'evidence', 'release']),
  paragraph: z.string().nullable(),
  clip: z.string().nullable(),
  frame: z.int().nullable(),
}) satisfies z.ZodType<EditPlace>

/// What a change is called, and where it acts: Undo says both and goes there first.
export const UndoStep = z.strictObject({ label: z.string(), place: Place })
export type UndoStep = z.infer<typeof UndoStep>

/// What Undo and Redo would do next; null: nothing.
export const NextUndo = z.strictObject({ undo: UndoStep.nullable(), redo: UndoStep.nullable() })
export type NextUndo = z.infer<typeof NextUndo>

/// What was committed. `edits` are those that lead a replica on, in order, as they were done: each from
/// version `base` to `base + 1`; put them on with `applyEdit`. `version` is where the last of them leads.
export const Committed = z.strictObject({
  version: z.int().min(0),
  edits: z.array(EditOnTheWay),
  /// The change itself, the last of `edits`; null where there was nothing to do.
  done: z.strictObject({ kind: z.enum(['edit', 'undo', 'redo']), ...UndoStep.shape }).nullable(),
  next: NextUndo,
})
export type Committed = z.infer<typeof Committed>

export const editCalls = {
  'edit.apply': call(
    z.strictObject({ edit: SentEditOnTheWay }),
    Committed,
    'Commits an edit. A pack of samples that it removes is named by its extent, `{ table: "packs", change: "gone", key, first, last }`, and need not be sent along: a call takes 8 MB at most. One that was made on an older version is rebased first. `edits` are then those since its base, and last the edit as it was done. An id that was applied already is answered, not applied again, so an edit may be sent again after a lost answer. Refused with `edit-conflict` (a record it touches was changed meanwhile), `edit-refused` (the project would break), `read-only`: then nothing changed, and the edit is the window’s to keep.',
  ),
  'edit.undo': call(
    z.strictObject({}),
    Committed,
    'Takes the last edit (or group) that is not undone back. No edits in the answer when there is none. Refused with `edit-conflict`, `read-only`.',
  ),
  'edit.redo': call(
    z.strictObject({}),
    Committed,
    'Does again what was undone last, unless something was edited since. No edits in the answer when there is none.',
  ),
  'edit.since': call(
    z.strictObject({ version: z.int().min(0) }),
    Committed,
    'The edits after a version, for a window that fell behind. Refused with `too-large` when they are more than 2,000: read `project.state` again.',
  ),
  'edit.history': call(
    z.strictObject({ limit: z.int().min(1).max(5000).default(200) }),
    z.strictObject({ entries: z.array(z.strictObject({ version: z.int(), kind: z.enum(['edit', 'undo', 'redo']), ...UndoStep.shape })) }),
    'What was done, the latest first, undoing included.',
  ),
} as const
