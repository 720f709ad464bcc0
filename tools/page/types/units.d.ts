// What the program serves as /js/units.js: the units that were chosen.
import { UnitsView } from './views';
export const units: UnitsView;
