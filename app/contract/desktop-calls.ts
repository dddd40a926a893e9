import { z } from 'zod'
import { call, shellCall } from './call'

/// What only a desktop can do. A browser window is refused with `desktop-only` and offers a field
/// for a path, and `files.list`, instead.
export const desktopCalls = {
  'engine.about': call(
    z.strictObject({}),
    z.strictObject({
      version: z.string(),
      ffmpeg: z.string().nullable(),
      fileDialog: z.boolean(),
      showInFolder: z.boolean(),
      home: z.string(),
    }),
    'What this engine and its door can do.',
  ),
  'desktop.chooseFiles': shellCall(
    z.strictObject({ what: z.enum(['film', 'project', 'document', 'sound']), several: z.boolean().default(false) }),
    z.strictObject({ files: z.array(z.string()) }),
    'Asks for files with the system’s own dialog; empty when the person thought better of it.',
  ),
  'desktop.chooseTarget': shellCall(
    z.strictObject({ what: z.enum(['film', 'project', 'folder']), name: z.string().max(200) }),
    z.strictObject({ file: z.string().nullable() }),
    'Asks where to save with the system’s own dialog; null when the person thought better of it.',
  ),
  'desktop.showInFolder': shellCall(
    z.strictObject({ job: z.string().max(80) }),
    z.strictObject({}),
    'Shows the finished file of a job in the system’s file browser.',
  ),
} as const
