import { z } from 'zod'
import { Output } from '../project/breakdown'
import { Line } from '../project/fields'
import { call } from './call'
import { NextUndo } from './edit-calls'
import { Replica } from './replica'

/// Where a project file lies: a path on the machine that the engine runs on.
export const FilePath = z
  .string()
  .min(1)
  .max(4000)
  .refine((text) => !text.includes('\0'), 'a path holds no NUL')

/// An open project at a glance.
export const ProjectFacts = z.strictObject({
  file: z.string(),
  title: z.string(),
  /// Sequence number of the last edit, 0 before the first.
  version: z.int().min(0),
  /// Another program is editing it: `edit.apply` is refused with `read-only`.
  readOnly: z.boolean(),
})
export type ProjectFacts = z.infer<typeof ProjectFacts>

/// All that a window needs to begin. `stateOfReplica` makes the state that edits are applied to.
export const ProjectAnswer = z.strictObject({
  ...ProjectFacts.shape,
  replica: Replica,
  next: NextUndo,
  /// Follow the events of this engine from here on: nothing that happens after this answer is missed.
  engine: z.string(),
  after: z.int().min(0),
})
export type ProjectAnswer = z.infer<typeof ProjectAnswer>

export const RecentProject = z.strictObject({
  file: z.string(),
  title: z.string(),
  /// When it was last opened, ISO 8601.
  opened: z.string(),
  there: z.boolean(),
})

const Template = z.enum(['blank', 'walkthrough'])

export const projectCalls = {
  'project.new': call(
    z.strictObject({ file: FilePath, title: Line.min(1), template: Template.default('blank'), output: Output.optional() }),
    ProjectFacts,
    'Makes a project file and opens it. `blank` has one empty paragraph; `walkthrough` has the headings and questions of a breakdown to fill in. Refused with `file-exists`, `jobs-running`.',
  ),
  'project.open': call(
    z.strictObject({ file: FilePath, readOnly: z.boolean().default(false) }),
    ProjectFacts,
    'Opens a project in place of the one that is open. A project that another program edits opens to read only. Refused with `file-missing`, `project-not-ours`, `project-newer`, `jobs-running`.',
  ),
  'project.close': call(
    z.strictObject({}),
    z.strictObject({}),
    'Closes the open project. Nothing needs saving. Refused with `jobs-running`.',
  ),
  'project.recent': call(
    z.strictObject({}),
    z.strictObject({ projects: z.array(RecentProject) }),
    'Projects opened before, the latest first.',
  ),
  'project.state': call(z.strictObject({}), ProjectAnswer, 'The open project, whole but for landmark samples. Refused with `no-project`.'),
  'project.copy': call(
    z.strictObject({ file: FilePath }),
    z.strictObject({ file: z.string(), left: z.array(z.string()) }),
    'Writes a copy of the project elsewhere, as it stands and without its history; the open one stays open. Films and takes are not copied along: `project.bundle` does that. `left`: those that the copy does not find beside it. Refused with `file-exists`, `disk-full`.',
  ),
  'project.bundle': call(
    z.strictObject({ folder: FilePath }),
    z.strictObject({ job: z.string() }),
    'Starts a job that writes the project, its films and its takes into a new folder, to hand over. Refused with `file-exists`.',
  ),
  'project.document': call(
    z.strictObject({}),
    z.strictObject({ text: z.string() }),
    'The breakdown document of the project as it stands, as JSON text.',
  ),
  'files.list': call(
    z.strictObject({ folder: FilePath.optional() }),
    z.strictObject({
      folder: z.string(),
      parent: z.string().nullable(),
      folders: z.array(z.strictObject({ name: z.string(), path: z.string() })),
      files: z.array(
        z.strictObject({ name: z.string(), path: z.string(), kind: z.enum(['project', 'film', 'document', 'sound']), bytes: z.number() }),
      ),
    }),
    'What lies in a folder, for a window that has no file dialog of its own: folders, and files that Claimframe can open. Hidden ones are left out. Without a folder: the project’s, else the home folder.',
  ),
} as const
