import { engineClient } from '../../app/contract/client'

/// The window's end of the contract. Addresses are relative: the page stands in a room of its own.
export const engine = engineClient((address, request) => fetch(address, request))
