import { access, constants } from 'node:fs/promises'
import { delimiter, dirname, join } from 'node:path'

/// A speech recogniser (pocketsphinx with its US English model) where one is installed.
export interface Recogniser {
  readonly program: string
  /// Folder of the acoustic model, and the model's pronouncing dictionary.
  readonly model: string
  readonly dictionary: string
}

/// Finds it: the environment's (`CLAIMFRAME_POCKETSPHINX`, `CLAIMFRAME_POCKETSPHINX_MODEL`), else on the PATH with the
/// model in the usual folders. Null: words are then found by the reference voice, less exactly, or tapped.
export async function findRecogniser(env: Readonly<Record<string, string | undefined>> = process.env): Promise<Recogniser | null> {
  const chosen = env['CLAIMFRAME_POCKETSPHINX']
  if (chosen === 'none') return null
  const programs = chosen
    ? [chosen]
    : (env['PATH'] ?? '')
        .split(delimiter)
        .filter(Boolean)
        .map((folder) => join(folder, 'pocketsphinx_batch'))
  for (const program of programs) {
    if (!(await can(program, constants.X_OK))) continue
    const beside = join(dirname(program), '..', 'share', 'pocketsphinx', 'model', 'en-us')
    const folders = [
      env['CLAIMFRAME_POCKETSPHINX_MODEL'],
      beside,
      '/usr/share/pocketsphinx/model/en-us',
      '/usr/local/share/pocketsphinx/model/en-us',
    ]
    for (const folder of folders) {
      if (!folder) continue
      const [model, dictionary] = [join(folder, 'en-us'), join(folder, 'cmudict-en-us.dict')]
      if ((await can(join(model, 'mdef'), constants.R_OK)) && (await can(dictionary, constants.R_OK))) return { program, model, dictionary }
    }
  }
  return null
}

const can = (path: string, mode: number): Promise<boolean> =>
  access(path, mode).then(
    () => true,
    () => false,
  )
