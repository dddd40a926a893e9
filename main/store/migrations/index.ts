import { theProject } from './0001-the-project'
import { claims } from './0002-claims'
import { narration } from './0003-narration'
import { vocabulary } from './0004-vocabulary'
import { fields } from './0005-fields'
import { unlike } from './0006-unlike'
import { headingValues } from './0007-heading-values'
import { claimValues } from './0008-claim-values'
import { whatIsStated } from './0009-what-is-stated'
import { whatVersionsRestOn } from './0010-what-versions-rest-on'

/// In order; a project's `user_version` is the number of those it has been through. A migration
/// that was ever released is never changed.
export const migrations: readonly string[] = [
  theProject,
  claims,
  narration,
  vocabulary,
  fields,
  unlike,
  headingValues,
  claimValues,
  whatIsStated,
  whatVersionsRestOn,
]
