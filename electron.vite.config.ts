import { defineConfig } from 'electron-vite'
import react from '@vitejs/plugin-react'
import { resolve } from 'node:path'

/// Builds into `out`: the command line and engine (Node), the desktop shell (Electron), and the window.
export default defineConfig({
  main: {
    build: {
      outDir: 'out/main',
      // Packages of hundreds of small files are put together with the program, which else takes half a second longer to start.
      externalizeDeps: {
        exclude: ['compromise', 'zod', 'n2words', 'jstat', 'ml-matrix', 'syllable', 'prosemirror-model', 'prosemirror-transform'],
      },
      rollupOptions: {
        input: {
          cli: resolve('main/cli/claimframe.ts'),
          demo: resolve('demo-data/demo.ts'),
          'film-worker': resolve('demo-data/film/film-worker.ts'),
          desktop: resolve('main/desktop/desktop.ts'),
          'engine-process': resolve('main/desktop/engine-process.ts'),
        },
      },
    },
  },
  // A script in the sandbox is of the older kind of module.
  preload: {
    build: {
      outDir: 'out/preload',
      rollupOptions: { input: { preload: resolve('main/desktop/preload.ts') }, output: { format: 'cjs', entryFileNames: '[name].cjs' } },
    },
  },
  // Nothing is put into addresses: the window's content policy takes faces from files alone.
  renderer: {
    root: 'renderer',
    plugins: [react()],
    build: { outDir: 'out/renderer', assetsInlineLimit: 0, minify: true, rollupOptions: { input: resolve('renderer/index.html') } },
  },
})
