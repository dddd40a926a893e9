import { defineConfig } from 'vitest/config'

/// One project per kind of check; the slow ones run one file at a time.
export default defineConfig({
  test: {
    projects: [
      { test: { name: 'unit', include: ['tests/unit/**/*.test.ts'], root: '.', testTimeout: 60_000 } },
      { test: { name: 'outside', include: ['tests/outside/**/*.test.ts'], root: '.', testTimeout: 120_000 } },
      { test: { name: 'render', include: ['tests/render/**/*.test.ts'], root: '.', testTimeout: 600_000, hookTimeout: 600_000, fileParallelism: false } },
      { test: { name: 'faults', include: ['tests/faults/**/*.test.ts'], root: '.', testTimeout: 600_000, hookTimeout: 600_000, fileParallelism: false } },
      { test: { name: 'e2e', include: ['tests/e2e/**/*.test.ts'], root: '.', testTimeout: 600_000, hookTimeout: 600_000, fileParallelism: false } },
      { test: { name: 'desktop', include: ['tests/desktop/**/*.test.ts'], root: '.', testTimeout: 120_000, hookTimeout: 120_000, fileParallelism: false } },
    ],
  },
})
