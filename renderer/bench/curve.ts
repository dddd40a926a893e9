export { curveOf, gridOf, type CurvePoint } from '../../app/measure/curve'
