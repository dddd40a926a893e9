import { defineConfig } from 'vitest/config'

const EVERY_CORE = '100%'
/// How long a poll waits for what must come: long, since a busy machine is no fault; what has a limit in time is in tests/bench.
const expect = { poll: { timeout: 30_000 } }

/// One project per kind of check. Each file has folders, ports and processes of its own, so that two or more run at once: of
/// the time that windows and killed engines take, much is waiting. Vitest by itself keeps one core free, which on two cores is
/// half of them. Files of unit and outside follow one another in a process that has read the modules already.
export default defineConfig({
  test: {
    projects: [
      {
        test: {
          name: 'unit',
          isolate: false,
          include: ['tests/unit/**/*.test.ts'],
          root: '.',
          expect,
          testTimeout: 60_000,
          hookTimeout: 60_000,
          maxWorkers: EVERY_CORE,
        },
      },
      {
        test: {
          name: 'outside',
          isolate: false,
          include: ['tests/outside/**/*.test.ts'],
          root: '.',
          expect,
          testTimeout: 120_000,
          hookTimeout: 120_000,
          maxWorkers: EVERY_CORE,
        },
      },
      {
        test: {
          name: 'render',
          include: ['tests/render/**/*.test.ts'],
          root: '.',
          expect,
          testTimeout: 600_000,
          hookTimeout: 600_000,
          maxWorkers: 2,
          sequence: { groupOrder: 1 },
        },
      },
      {
        test: {
          name: 'faults',
          include: ['tests/faults/**/*.test.ts'],
          root: '.',
          expect,
          testTimeout: 600_000,
          hookTimeout: 600_000,
          maxWorkers: 2,
          sequence: { groupOrder: 3 },
        },
      },
      {
        test: {
          name: 'e2e',
          include: ['tests/e2e/**/*.test.ts'],
          root: '.',
          expect: { poll: { timeout: 120_000 } },
          testTimeout: 600_000,
          hookTimeout: 600_000,
          maxWorkers: 2,
          sequence: { groupOrder: 2 },
        },
      },
      {
        test: {
          name: 'desktop',
          include: ['tests/desktop/**/*.test.ts'],
          root: '.',
          expect,
          testTimeout: 120_000,
          hookTimeout: 120_000,
          fileParallelism: false,
        },
      },
    ],
  },
})
