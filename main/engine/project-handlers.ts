import { existsSync } from 'node:fs'
import { copyFile, constants, mkdir, readdir, rename, rm, stat } from 'node:fs/promises'
import { homedir } from 'node:os'
import { basename, dirname, extname, join, resolve } from 'node:path'
import type { Handlers } from '../../app/contract/calls'
import type { projectCalls } from '../../app/contract/project-calls'
import { replicaOf } from '../../app/contract/replica'
import { CodedError } from '../../app/errors/coded-error'
import { writeBreakdown } from '../../app/exchange/breakdown-writing'
import type { Breakdown } from '../../app/project/breakdown'
import { createProject } from '../store/create-project'
import { blankBreakdown, walkthroughBreakdown } from './templates'
import type { Workspace } from './workspace'

const FILM = /\.(mp4|m4v|mov|mkv|webm|avi|mts|m2ts|ts|mpg|mpeg|mxf|3gp|wmv|flv|ogv)$/i
const SOUND = /\.(wav|flac|mp3|m4a|ogg|opus|aac)$/i
const PROJECT = /\.claimframe$/i
const LISTED = 5000

export function projectHandlers(workspace: Workspace): Handlers<keyof typeof projectCalls> {
  return {
    'project.new': async ({ file, title, template, output }) => {
      const path = resolve(file)
      await mkdir(dirname(path), { recursive: true })
      const made = createProject(path, (template === 'blank' ? blankBreakdown : walkthroughBreakdown)(title, output))
      if (!made.ok) throw made.error
      return workspace.open(path)
    },
    'project.open': ({ file, readOnly }) => workspace.open(file, readOnly),
    'project.close': () => {
      workspace.close()
      return {}
    },
    'project.recent': () => ({ projects: workspace.recent.list() }),
    'project.state': () => {
      const { events, opened } = workspace
      const { next } = opened.since(opened.project.version)
      return { ...opened.facts(), replica: replicaOf(opened.project.state), next, engine: events.engine, after: events.last }
    },
    'project.copy': ({ file }) => {
      const path = resolve(file)
      const breakdown = workspace.opened.readings.breakdown()
      const made = createProject(path, breakdown)
      if (!made.ok) throw made.error
      return { file: path, left: filesOf(breakdown).filter((each) => !existsSync(join(dirname(path), each))) }
    },
    'project.bundle': async ({ folder }) => {
      const target = resolve(folder)
      if (existsSync(target)) throw new CodedError('file-exists', { file: target })
      const { opened } = workspace
      const breakdown = opened.readings.breakdown()
      const name = basename(opened.project.path)
      const job = workspace.jobs.start(
        { kind: 'bundle', label: `bundling ${breakdown.title}` },
        async ({ signal, report }) => {
          const part = `${target}.${process.pid}.part`
          try {
            const files = filesOf(breakdown)
            await mkdir(part, { recursive: true })
            for (const [i, each] of files.entries()) {
              if (signal.aborted) throw new CodedError('cancelled', { what: 'the bundle' })
              const from = join(opened.folder, each)
              if (!existsSync(from)) throw new CodedError('file-missing', { file: each })
              await mkdir(dirname(join(part, each)), { recursive: true })
              await copyFile(from, join(part, each), constants.COPYFILE_FICLONE)
              report((i + 1) / (files.length + 1))
            }
            const made = createProject(join(part, name), breakdown)
            if (!made.ok) throw made.error
            await rename(part, target)
            return target
          } catch (error) {
            if ((error as NodeJS.ErrnoException).code === 'ENOSPC') throw new CodedError('disk-full', { file: target }, { cause: error })
            throw error
          } finally {
            await rm(part, { recursive: true, force: true })
          }
        },
        (made) => made,
      )
      return { job: job.id }
    },
    'project.document': () => ({ text: writeBreakdown(workspace.opened.readings.breakdown()) }),
    'files.list': async ({ folder }) => {
      const here = resolve(folder ?? workspace.maybeOpened?.folder ?? homedir())
      const entries = await readdir(here, { withFileTypes: true }).catch((error: NodeJS.ErrnoException) => {
        throw error.code === 'ENOENT'
          ? new CodedError('file-missing', { file: here })
          : new CodedError('file-unreadable', {
              file: here,
              problem: error.code === 'ENOTDIR' ? 'it is no folder' : 'its permissions do not allow it',
            })
      })
      const shown = entries
        .filter((entry) => !entry.name.startsWith('.'))
        .sort((a, b) => a.name.localeCompare(b.name))
        .slice(0, LISTED)
      const folders: { name: string; path: string }[] = []
      const files: { name: string; path: string; kind: 'project' | 'film' | 'document' | 'sound'; bytes: number }[] = []
      for (const entry of shown) {
        const path = join(here, entry.name)
        const facts = await stat(path).catch(() => null)
        if (facts?.isDirectory()) folders.push({ name: entry.name, path })
        const kind = kindOf(entry.name)
        if (facts?.isFile() && kind) files.push({ name: entry.name, path, kind, bytes: facts.size })
      }
      const parent = dirname(here)
      return { folder: here, parent: parent === here ? null : parent, folders, files }
    },
  }
}

/// The files that a project needs beside it: films, takes, room tone.
function filesOf({ footage, script, sound }: Breakdown): string[] {
  const takes = script.flatMap((row) => ('text' in row && row.take !== undefined ? [row.take] : []))
  return [...new Set([...footage.map(({ file }) => file), ...takes, ...(sound?.roomTone === undefined ? [] : [sound.roomTone])])]
}

function kindOf(name: string): 'project' | 'film' | 'document' | 'sound' | null {
  if (PROJECT.test(name)) return 'project'
  if (FILM.test(name)) return 'film'
  if (SOUND.test(name)) return 'sound'
  return ['.json', '.txt', '.md', '.docx'].includes(extname(name).toLowerCase()) ? 'document' : null
}
