import type { OpenDialogOptions, SaveDialogOptions } from 'electron'
import { calls, type CallAsked, type CallOutput } from '../../app/contract/calls'
import { refusalOf } from '../../app/contract/refusal'
import { CodedError } from '../../app/errors/coded-error'
import type { Job } from '../../app/contract/work-calls'

/// What the shell needs of the system.
export interface Desktop {
  chooseFiles(options: OpenDialogOptions): Promise<readonly string[]>
  chooseTarget(options: SaveDialogOptions): Promise<string | null>
  showInFolder(file: string): void
  /// The engine's jobs, to look a finished file up: the window names a job, never a path.
  jobs(): Promise<readonly Job[]>
}

type ShellCall = 'desktop.chooseFiles' | 'desktop.chooseTarget' | 'desktop.showInFolder'

const kinds = {
  film: { name: 'Films', extensions: ['mp4', 'm4v', 'mov', 'mkv', 'webm', 'avi', 'mts', 'm2ts', 'ts', 'mpg', 'mxf', '3gp', 'wmv'] },
  project: { name: 'Claimframe projects', extensions: ['claimframe'] },
  document: { name: 'Scripts and breakdowns', extensions: ['json', 'txt', 'md', 'docx'] },
  sound: { name: 'Sound', extensions: ['wav', 'flac', 'mp3', 'm4a', 'ogg', 'opus'] },
} as const

/// Whether the shell answers this address itself; the name of the call.
export function shellCallOf(address: string): ShellCall | null {
  const name = decodeURIComponent(/\/call\/([^/?#]+)$/.exec(new URL(address).pathname)?.[1] ?? '')
  return name === 'desktop.chooseFiles' || name === 'desktop.chooseTarget' || name === 'desktop.showInFolder' ? name : null
}

/// Answers a call of the shell's own, checked at the door like any other.
export async function answerShellCall(name: ShellCall, request: Request, desktop: Desktop): Promise<Response> {
  const parsed = request.method === 'POST' ? calls[name].input.safeParse(await request.json().catch(() => undefined)) : null
  if (!parsed?.success)
    return json(400, {
      ok: false,
      error: refusalOf(
        new CodedError('call-invalid', {
          call: name,
          problems: (parsed?.error.issues ?? []).map((issue) => ({ place: issue.path.join('.') || 'input', problem: issue.message })),
        }),
      ),
    })
  try {
    return json(200, { ok: true, value: await perform(name, parsed.data, desktop) })
  } catch (error) {
    if (error instanceof CodedError) return json(200, { ok: false, error: refusalOf(error) })
    throw error
  }
}

async function perform(name: ShellCall, asked: unknown, desktop: Desktop): Promise<CallOutput<ShellCall>> {
  switch (name) {
    case 'desktop.chooseFiles': {
      const { what, several } = asked as CallAsked<'desktop.chooseFiles'>
      return {
        files: [
          ...(await desktop.chooseFiles({
            properties: ['openFile', ...(several ? (['multiSelections'] as const) : [])],
            filters: [{ name: kinds[what].name, extensions: [...kinds[what].extensions] }],
          })),
        ],
      }
    }
    case 'desktop.chooseTarget': {
      const { what, name: wanted } = asked as CallAsked<'desktop.chooseTarget'>
      const filters =
        what === 'folder'
          ? []
          : [
              what === 'film'
                ? { name: 'Film', extensions: ['mp4'] }
                : { name: kinds.project.name, extensions: [...kinds.project.extensions] },
            ]
      return {
        file: await desktop.chooseTarget({ defaultPath: wanted, filters, properties: ['createDirectory', 'showOverwriteConfirmation'] }),
      }
    }
    case 'desktop.showInFolder': {
      const { job } = asked as CallAsked<'desktop.showInFolder'>
      const file = (await desktop.jobs()).find((each) => each.id === job)?.file
      if (!file) throw new CodedError('not-there', { what: 'finished file of job', id: job })
      desktop.showInFolder(file)
      return {}
    }
  }
}

/// `engine.about` with what this shell adds.
export async function withShell(answer: Response): Promise<Response> {
  const body = (await answer.json()) as { ok: boolean; value?: object }
  return json(answer.status, body.ok ? { ...body, value: { ...body.value, fileDialog: true, showInFolder: true } } : body)
}

const json = (status: number, body: unknown): Response =>
  new Response(JSON.stringify(body), { status, headers: { 'content-type': 'application/json', 'cache-control': 'no-store' } })
