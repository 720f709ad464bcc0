// Made from the program's records by ScriptsTest; RIGDAQ_WRITE=1 makes it anew.
export interface AccountView {
  name: string;
  role: string;
  madeAt: string;
}
export interface AccountsView {
  links: string[];
  fingerprint: string | null;
  accounts: AccountView[];
  sessions: SessionView[];
}
export interface AnswerView {
  to: string;
  done: boolean;
  message: string;
  type: string;
}
export interface ApiRig {
  name: string;
  path: string;
}
export interface ApiView {
  version: string;
  document: string;
  rigs: ApiRig[];
}
export interface BudgetItem {
  name: string;
  distribution: string;
  standardMegapascals: number;
  sharePercent: number;
  assumed: boolean;
}
export interface By {
  name: string;
  from: string;
}
export interface CalibrationInForce {
  greatestReferenceNewtons: number;
  validUntil: string;
  class: string | null;
  checkWeight: string | null;
}
export interface CalibrationStep {
  action: string;
  degree: number;
}
export interface CalibrationView {
  phase: string;
  instruction: string;
  done: number;
  total: number;
  series: string;
  wantedNewtons: number | null;
  counts: number | null;
  forceNewtons: number | null;
  still: boolean;
  driftCountsPerMinute: number | null;
  driftLimitCountsPerMinute: number | null;
  waitedSeconds: number | null;
  waitSeconds: number | null;
  rejected: boolean;
  prompts: PromptView[];
  fit: FitView | null;
  fitProblem: string;
}
export interface ChannelView {
  name: string;
  kind: string;
  unit: string;
  value: number | null;
}
export interface ControlHistory {
  control: GroupKey;
  points: ControlPoint[];
  centreMegapascals: number;
  lowerMegapascals: number | null;
  upperMegapascals: number | null;
  sentence: string;
  simulated: boolean;
}
export interface ControlPoint {
  studyId: string;
  name: string;
  at: string | null;
  n: number;
  imported: number;
  meanMegapascals: number;
  lowMegapascals: number | null;
  highMegapascals: number | null;
  changePercent: number | null;
  outside: boolean;
}
export interface CurveView {
  name: string;
  ending: string;
  peakForceNewtons: number | null;
  breakForceNewtons: number | null;
  sampleRateHertz: number | null;
  samples: number;
  svg: string | null;
  warnings: string[];
}
export interface CurvesRowView {
  line: number;
  file: string;
  curve: string;
  specimen: string;
  material: string;
  condition: string;
  setting: string;
  print: string;
  width: string;
  thickness: string;
  area: string;
  areaUncertainty: string;
  ending: string;
}
export interface CurvesStartView {
  mayChange: boolean;
  layouts: string[];
  studies: string[];
}
export interface CurvesTableView {
  rows: CurvesRowView[];
  remarks: string[];
}
export interface CurvesView {
  name: string;
  encoding: string;
  sheet: string | null;
  sheets: string[];
  separator: string | null;
  decimalMark: string;
  headerLine: number | null;
  firstLine: number | null;
  timesFrom: string;
  columns: TraceReadColumn[];
  preview: string[][];
  faults: string[];
  warnings: string[];
  curves: CurveView[];
}
export interface DashboardFact {
  label: string;
  value: string;
}
export interface DeviceView {
  name: string;
  id: string;
  firmwareVersion: number;
  simulated: boolean;
  canMove: boolean;
  canHome: boolean;
  hasFeeder: boolean;
}
export interface DryingSpell {
  setTemperatureCelsius: number | null;
  measuredTemperatureCelsius: number | null;
  hours: number | null;
  massBeforeGrams: number | null;
  massAfterGrams: number | null;
  uptakePercent: number | null;
}
export interface EarlierCalibration {
  id: string;
  specimens: number;
  standardPercent: number | null;
}
export interface EarlierItem {
  studyId: string;
  title: string;
  strengths: number;
  pooledBecause: string | null;
  givesScatter: boolean;
}
export interface EarlierView {
  groups: MeasuredGroup[];
  controls: ControlHistory[];
}
export interface FailureItem {
  reason: string;
  tries: number;
  photo: boolean;
}
export interface FitView {
  degree: number;
  advisedDegree: number;
  class: string;
  coefficients: number[];
  residualStandardDeviationNewtons: number;
  steps: StepView[];
  zeroErrorPercent: number | null;
  degreeAdvice: string;
  warnings: string[];
  residuals: ResidualView[];
}
export interface GroupItem {
  label: string;
  material: string;
  planned: number;
  count: number;
  voided: number;
  meanMegapascals: number | null;
  lowMegapascals: number | null;
  highMegapascals: number | null;
  extrapolated: boolean;
  notPrinted: boolean;
}
export interface GroupKey {
  material: string;
  condition: string;
  setting: number | null;
}
export interface HelloView {
  rigName: string;
  mayMove: boolean;
  atTheRig: boolean;
  cautions: string[];
  furtherCautions: string[];
  handMotionScope: string;
  units: string;
  type: string;
}
export interface JobView {
  id: string;
  kind: string;
  study: string;
  state: string;
  done: number;
  of: number;
  askedAt: string;
  endedAt: string | null;
  fileName: string;
  file: string | null;
  problem: string | null;
  by: By | null;
}
export interface JobsView {
  jobs: JobView[];
}
export interface JogMessage {
  jogMillimetresPerSecond: number;
  stop: boolean;
  id: string | null;
}
export interface JournalCount {
  name: string;
  count: number;
}
export interface JournalItem {
  at: string;
  kind: string;
  code: string;
  words: string;
  remedy: string;
  by: By | null;
  run: string;
}
export interface JournalPoint {
  at: string;
  value: number | null;
}
export interface JournalTold {
  from: string;
  to: string;
  items: JournalItem[];
  isCut: boolean;
  endings: JournalCount[];
  holds: number;
  alarms: number;
  linksLost: number;
  zero: JournalPoint[];
  noise: JournalPoint[];
  disk: JournalPoint[];
}
export interface LookItem {
  location: string;
  layer: string;
  appearance: string;
  hasPhoto: boolean;
  at: string;
}
export interface LookView {
  isOpen: boolean;
  links: string[];
}
export interface MassSection {
  massGrams: number;
  massStandardUncertaintyGrams: number;
  lengthMillimetres: number;
  lengthStandardUncertaintyMillimetres: number;
  densityGramsPerCubicCentimetre: number;
  densityStandardUncertaintyGramsPerCubicCentimetre: number;
}
export interface MeasuredGroup {
  studyId: string;
  studyName: string;
  group: GroupKey;
  settingUnit: string;
  n: number;
  imported: number;
  prints: number;
  meanMegapascals: number;
  variationPercent: number | null;
  from: string | null;
  to: string | null;
  calibrations: EarlierCalibration[];
  records: PrintRecord[];
  isControl: boolean;
  simulated: boolean;
  fromElsewhere: boolean;
}
export interface MotionAsked {
  id: number;
  name: string;
  from: string;
  what: string;
  until: string;
}
export interface OriginItem {
  name: string;
  stage: string;
  standardPercent: number;
  sharePercent: number;
  assumed: boolean;
}
export interface OriginsView {
  calibration: string;
  acceptedAt: string | null;
  specimen: string;
  forceNewtons: number;
  widthMillimetres: number | null;
  thicknessMillimetres: number | null;
  stepMillimetres: number;
  caliperErrorMillimetres: number | null;
  bendingPercent: number | null;
  ofStrength: boolean;
  expandedPercent: number;
  lines: OriginItem[];
  gains: UncertaintyGain[];
  notes: string[];
}
export interface PlanView {
  specimens: number;
  speedMillimetresPerSecond: number;
  forceLimitNewtons: number;
  travelLimitMillimetres: number;
  announcedDelaySeconds: number;
}
export interface PrintItem {
  id: string;
  group: string;
  specimens: number;
  noted: RunFact[];
  record: PrintRecord | null;
  stretches: StretchItem[];
}
export interface PrintRecord {
  storage: StorageSpell[];
  drying: DryingSpell[];
  whilePrinting: StorageSpell | null;
  chamberTemperatureCelsius: number | null;
  printerSettings: PrinterSetting[];
  notes: string;
}
export interface PrinterSetting {
  name: string;
  value: string;
}
export interface ProblemView {
  type: string;
  title: string;
  status: number;
  detail: string;
  code: string;
  done: boolean;
  message: string;
  reasons: string[];
  codes: string[];
  isPassing: boolean;
}
export interface PromptView {
  number: number;
  kind: string;
  text: string;
  aloud: boolean;
}
export interface PushView {
  publicKey: string;
  devices: number;
}
export interface QuestionItem {
  name: string;
  words: string;
  asked: boolean;
}
export interface QuestionsView {
  questions: QuestionItem[];
  materials: string[];
  referenceMaterial: string | null;
  keepsPercent: number;
}
export interface QueueItem {
  id: string;
  state: string;
  ending: string | null;
  group: string;
}
export interface QueueView {
  sequenceId: string;
  specimens: QueueItem[];
  type: string;
}
export interface ResidualView {
  series: string;
  forceNewtons: number;
  residualNewtons: number;
}
export interface ResultView {
  done: boolean;
  message: string;
  reasons: string[];
  codes: string[];
  isPassing: boolean;
}
export interface RevisionItem {
  revision: number;
  at: string;
  reason: string;
  voided: boolean;
  look: string;
  hasPhoto: boolean;
  by: By | null;
}
export interface RunBudgetView {
  lines: BudgetItem[];
  standardMegapascals: number;
  expandedMegapascals: number;
  gains: string[];
  notes: string[];
}
export interface RunChannelItem {
  channel: number;
  overExtension: boolean;
  name: string;
  label: string;
}
export interface RunFact {
  name: string;
  value: string;
}
export interface RunItem {
  runId: string;
  specimenId: string;
  group: string;
  ending: string;
  endedAt: string;
  voided: boolean;
  looked: boolean;
  revision: number;
  warnings: number;
}
export interface RunPageView {
  runId: string;
  revision: number;
  specimenId: string;
  studyId: string;
  studyName: string;
  group: string;
  startedAt: string;
  simulated: boolean;
  mayChange: boolean;
  judgeable: boolean;
  looked: boolean;
  result: RunView;
  reading: RunFact[];
  section: RunFact[];
  conditions: RunFact[];
  channels: RunChannelItem[];
  budget: RunBudgetView | null;
  void: VoidItem | null;
  look: LookItem | null;
  revisions: RevisionItem[];
}
export interface RunView {
  runId: string;
  specimenId: string;
  ending: string;
  reason: string;
  peakForceNewtons: number | null;
  breakForceNewtons: number | null;
  strengthMegapascals: number | null;
  expandedUncertaintyMegapascals: number | null;
  areaSquareMillimetres: number | null;
  sectionBasis: string | null;
  extrapolated: boolean;
  warnings: string[];
  peakExpandedNewtons: number | null;
  areaExpandedSquareMillimetres: number | null;
}
export interface RunsView {
  studyId: string;
  studyName: string;
  runs: RunItem[];
}
export interface SamplesView {
  runId: string;
  calibrationId: string;
  timeSeconds: number[];
  forceNewtons: number[];
  positionMillimetres: number[] | null;
}
export interface SectionItem {
  specimenId: string;
  printId: string;
  order: number;
  pulled: boolean;
  section: SectionMeasurement | null;
  areaSquareMillimetres: number | null;
  standardUncertaintySquareMillimetres: number | null;
}
export interface SectionMeasurement {
  widthsMillimetres: number[];
  thicknessesMillimetres: number[];
  resolutionMillimetres: number;
  caliperErrorMillimetres: number | null;
  areaSquareMillimetres: number | null;
  areaStandardUncertaintySquareMillimetres: number | null;
  mass: MassSection | null;
}
export interface SectionsView {
  studyId: string;
  studyName: string;
  mayChange: boolean;
  specimens: SectionItem[];
}
export interface SequenceView {
  id: string;
  studyId: string;
  stage: string;
  reason: string;
  reasonCode: string;
  specimenId: string | null;
  runId: string | null;
  total: number;
  pulled: number;
  broken: number;
  skipped: number;
  announcedSeconds: number | null;
  needsConfirmation: boolean;
  needsOpenGrip: boolean;
  clampingForceNewtons: number | null;
  runningMaximumNewtons: number | null;
}
export interface SessionView {
  name: string;
  from: string;
  begunAt: string;
  usedAt: string;
}
export interface SiteView {
  latitudeDegrees: number | null;
  heightMetres: number | null;
  gravityMetresPerSecondSquared: number | null;
}
export interface StateView {
  type: string;
  number: number;
  link: string;
  linkMessage: string;
  linkNotes: string[];
  device: DeviceView | null;
  startedBecause: string;
  guardClosed: boolean | null;
  emergencyStopReleased: boolean | null;
  asksForEmergencyStopTest: boolean;
  emergencyStopTestedAt: number | null;
  lowerLimit: boolean;
  upperLimit: boolean;
  motion: string;
  homed: boolean;
  faults: string[];
  reasonsAgainstHandMotion: string[];
  codesAgainstHandMotion: string[];
  positionMillimetres: number | null;
  gripSeparationMillimetres: number | null;
  forceNewtons: number | null;
  counts: number | null;
  calibration: CalibrationInForce | null;
  sampleRateHertz: number | null;
  samplesLost: number;
  framesBad: number;
  linksLost: number;
  stopLatencyMilliseconds: number | null;
  sampleAgeMilliseconds: number | null;
  sampleToStopMilliseconds: number | null;
  dataTrouble: string | null;
  motionAsked: MotionAsked[];
  channels: ChannelView[];
  sequence: SequenceView | null;
  lastRun: RunView | null;
}
export interface StepView {
  referenceNewtons: number;
  indicationErrorPercent: number | null;
  repeatabilityPercent: number | null;
  reversibilityPercent: number | null;
  resolutionPercent: number | null;
  expandedUncertaintyPercent: number | null;
}
export interface StorageSpell {
  place: string;
  temperatureCelsius: number | null;
  relativeHumidityPercent: number | null;
  hours: number | null;
}
export interface StretchItem {
  setting: number | null;
  words: string;
  specimens: number;
  names: string;
  pulled: number;
  failure: FailureItem | null;
}
export interface StudiesView {
  mayChange: boolean;
  studies: StudyItem[];
  older: number;
}
export interface StudyItem {
  id: string;
  name: string;
  createdAt: string;
  origin: StudyOrigin | null;
  planned: number;
  pulled: number;
  frozenAt: string | null;
  workedOn: boolean;
  chosen: boolean;
}
export interface StudyMessage {
  id: string | null;
  name: string;
  settingName: string;
  settingUnit: string;
  specimensLeft: number;
  groups: GroupItem[];
  plan: PlanView | null;
  facts: DashboardFact[];
  type: string;
}
export interface StudyOrigin {
  studyId: string;
  package: string;
  at: string;
}
export interface StudyPageView {
  study: StudyItem;
  mayChange: boolean;
  plan: RunFact[];
  comparisons: string[];
  prints: PrintItem[];
  conditions: string[];
  questions: QuestionsView;
  findings: string[];
  recordFindings: string[];
  groups: string[];
  control: string | null;
  controlGroup: string | null;
  earlier: EarlierItem[];
}
export interface StudyVersionItem {
  number: number;
  at: string;
  reason: string;
  by: By | null;
}
export interface StudyVersionsView {
  count: number;
  versions: StudyVersionItem[];
}
export interface TraceReadColumn {
  number: number;
  name: string;
  role: string | null;
  unit: string;
  why: string;
}
export interface UncertaintyGain {
  advice: string;
  expandedPercent: number;
}
export interface UnitView {
  symbol: string;
  stored: number;
  decimals: number;
}
export interface UnitsView {
  name: string;
  force: UnitView;
  stress: UnitView;
  length: UnitView;
  area: UnitView;
  speed: UnitView;
}
export interface VoidItem {
  kind: string;
  text: string;
  at: string;
}
export interface WhoView {
  name: string;
  from: string;
  role: string;
  atTheRig: boolean;
}
