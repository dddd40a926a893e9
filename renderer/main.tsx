import { createRoot } from 'react-dom/client'
import { App } from './shell/app'
import { Project } from './state/project'
import './styles/faces.css'
import './styles/base.css'
import './styles/shell.css'
import './styles/sheets.css'
import './styles/script.css'
import './styles/lists.css'
import './styles/claims.css'
import './styles/footage.css'
import './styles/bench.css'
import './styles/narration.css'

const project = new Project()
void project.start()
createRoot(document.getElementById('root')!).render(<App project={project} />)
