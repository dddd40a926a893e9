#!/usr/bin/env node
console.log('claimframe')
