/// A process of its own that runs the Flite speech synthesiser (a WebAssembly program with a WASI
/// interface) once: `node speak.mjs <flite.wasm> <folder> <flite's arguments…>`. Flite sees the
/// folder as `/`, and nothing else of the disk.
import { readFile } from 'node:fs/promises'
import { WASI } from 'node:wasi'

const [wasm = '', folder = '', ...args] = process.argv.slice(2)
const wasi = new WASI({ version: 'preview1', args: ['flite', ...args], preopens: { '/': folder }, returnOnExit: true })
const program = await WebAssembly.compile(await readFile(wasm))
process.exitCode = wasi.start(await WebAssembly.instantiate(program, wasi.getImportObject()))
