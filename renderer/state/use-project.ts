import { createContext, useContext, useSyncExternalStore } from 'react'
import type { Project } from './project'
import type { Shown } from './shown'

export const ProjectContext = createContext<Project | null>(null)

/// The project that the window stands on. Throws outside of it.
export function useProject(): Project {
  const project = useContext(ProjectContext)
  if (!project) throw new Error('there is no project here')
  return project
}

export function useShown(): Shown {
  const project = useProject()
  return useSyncExternalStore(project.subscribe, project.shown)
}

/// One part of what is shown; a component is drawn anew only when that part is another one.
export function usePart<P extends keyof Shown>(part: P): Shown[P] {
  const project = useProject()
  return useSyncExternalStore(project.subscribe, () => project.shown()[part])
}
