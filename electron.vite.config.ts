import { defineConfig } from 'electron-vite'
import react from '@vitejs/plugin-react'
import { resolve } from 'node:path'

/// Builds into `out`: the command line and engine (Node), later the desktop shell and the window.
export default defineConfig({
  main: {
    build: {
      outDir: 'out/main',
      rollupOptions: { input: { cli: resolve('main/cli/claimframe.ts'), demo: resolve('demo-data/demo.ts'), 'film-worker': resolve('demo-data/film/film-worker.ts') } },
    },
  },
  renderer: { root: 'renderer', plugins: [react()], build: { outDir: 'out/renderer', rollupOptions: { input: resolve('renderer/index.html') } } },
})
