import { createHash } from 'node:crypto'
import { readFile } from 'node:fs/promises'
import { createRequire } from 'node:module'
import { readTypeface, type Typeface } from '../../app/marks/typeface'
import type { Faces } from './segment-cache'

/// The type face that films are lettered in (Atkinson Hyperlegible, OFL 1.1), from its npm package.
export interface FilmFaces extends Faces {
  readonly typeface: Typeface
}

const PACKAGE = '@expo-google-fonts/atkinson-hyperlegible'
let loaded: Promise<FilmFaces> | null = null

/// Read once per process.
export function filmFaces(): Promise<FilmFaces> {
  loaded ??= readFaces()
  loaded.catch(() => (loaded = null))
  return loaded
}

async function readFaces(): Promise<FilmFaces> {
  const resolve = createRequire(import.meta.url).resolve
  const files = ['400Regular/AtkinsonHyperlegible_400Regular.ttf', '700Bold/AtkinsonHyperlegible_700Bold.ttf'].map((name) =>
    resolve(`${PACKAGE}/${name}`),
  )
  const [regular, bold] = await Promise.all(files.map((file) => readFile(file)))
  const hash = createHash('sha256').update(regular!).update(bold!)
  return { files, identity: hash.digest('hex'), typeface: readTypeface(bytesOf(regular!), bytesOf(bold!)) }
}

const bytesOf = (buffer: Buffer): ArrayBuffer =>
  buffer.buffer.slice(buffer.byteOffset, buffer.byteOffset + buffer.byteLength) as ArrayBuffer
