import './node-version.mjs'
import { join } from 'node:path'
import { build } from './build.mjs'
import { install } from './install.mjs'
import { root, run } from './step.mjs'

/// Builds the program and the benchmarks, then runs those named, or all.
async function bench() {
  if (!(await install()) || !(await build())) return 3
  const vite = await import('vite')
  await vite.build({
    root,
    configFile: false,
    logLevel: 'warn',
    build: { ssr: join('tests', 'bench', 'run.ts'), outDir: join('out', 'bench'), target: 'node20', minify: false },
  })
  return (await run(process.execPath, [join(root, 'out', 'bench', 'run.js'), ...process.argv.slice(2)])).status
}

process.exitCode = await bench()
