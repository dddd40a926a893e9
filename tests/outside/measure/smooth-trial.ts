import type { Vector3 } from '../../../demo-data/mocap/bvh'
import { dualPass, filterBothWays } from '../../../app/motion/butterworth'
import type { Pose, Trial } from './trial'

/// The captured motion low-passed at 12 Hz: a motion whose rates are
/// defined. It is what the cameras then film; no measure sees it.
export function smoothed(trial: Trial, cutoff_hz = 12): Trial {
  const filter = dualPass(trial.rate, cutoff_hz)
  const poses = trial.poses.map(() => new Map<string, Vector3>())
  for (const name of trial.poses[0]!.keys()) {
    const axes = ([0, 1, 2] as const).map((k) =>
      filterBothWays(
        filter,
        trial.poses.map((p) => p.get(name)![k]),
      ),
    )
    poses.forEach((pose, i) => pose.set(name, [axes[0]![i]!, axes[1]![i]!, axes[2]![i]!]))
  }
  return { ...trial, poses: poses as readonly Pose[] }
}
