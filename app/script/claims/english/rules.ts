import type { ClassGuard, ClassRule } from '../language'

/// The English rules for classes B to M (docs/vocabulary.md), in the manner of the trade's own lists;
/// no source outside the trade. They look for wording, not for truth: "power" in a sentence makes it
/// one of cause whatever it says of it.
export const rules: readonly ClassRule[] = [
  {
    class: 'J',
    when: ['@medical', '@body .. broken', 'broken @body|bone', 'blown out', 'stitches', 'good night $', 'goodnight', 'not all there', 'not|never .. remember', 'he|she|they|@body go|gone $', 'is|are gone ,? $', 'he|she is gone', 'out of it', 'is out , cold', 'do not|never know where|what', 'shut|shuts|shutting|switch|switched|turn|turned off|down', 'goes|went limp', 'out like', 'goes|went stiff|rigid', 'finish his|her|their career', 'need a|the doctor'],
  },
  {
    class: 'I',
    when: [
      '@person .. @mental',
      '@person .. @feeling',
      '#ProperNoun .. @mental',
      '#ProperNoun .. @feeling',
      '@intention',
      '@feeling ,? @feeling',
      'do|does|did he|she|they see|know|want|feel|mean|think',
      'fish|hunt|angle|gun for', 'given up', 'no idea|clue', 'have|has|had|having no idea|clue', 'go|going|went fishing|hunting|looking',
      'on his|her|their mind',
      'make up .. mind',
      'is|was having none',
      'is|was not buying|having',
      'up for it',
      'think|thinks|thought twice',
      'it is all a|an? bluff|trick|act|ruse|trap',
    ],
    unless: ['^ if you', '^ i .. you to', 'no idea why', 'the idea of this|the|today'],
  },
  {
    class: 'G',
    unless: ['power cable|line|cut|socket|lead|supply'],
    when: [
      '@because', '@power', '@causing',
      '!@person|@speaker #Noun|that|this|it|which|what|#Gerund @effecting&#Verb #Determiner|#Pronoun|#Possessive|#Noun|@person|all|everything|sure|room|space|#Adjective',
      '#Adverb|will|can|would|could|may|might @effecting&#Verb @person',
      'so|, there is|are|was no|nothing|nowhere',
      ', =so !we|i|you|what|how|why|let|that|far #Determiner|#Pronoun|#Possessive|#Noun|@body|nothing|there',
      '@power|@action|that|it|this|all|everything|speed|rest come from|off|out', 'born|rooted in', 'start|begin in|from|with the @body|floor|ground',
      'what|why|how .. work|works|land|lands|happen|happens|make|makes|do|does',
      'without #Determiner|#Possessive|that|it ... not|nothing|no',
      'if ... not|would|could|will',
      'that|this|it|which is|was what|why|how|where', 'by #Gerund', 'via', 'through the #Noun into|to', 'use|using|used #Determiner|#Possessive|@body .. to|as|for', '@action|@body|that|it !hit|reach|touch|catch|strike|miss|clip|graze #PresentTense|#PastTense him|them', '@action|@body|that|it !hit|reach|touch|catch|strike|miss|clip|graze #PresentTense|#PastTense her ,? $', '#Noun|@body|weight go|move|travel|flow|pour|come into|through|behind|from', 'behind that|this|the|every|her|his @action', 'body|weight|everything|force|power .. behind it', 'do|does|did the work|job|trick|damage',
      '#Determiner|#Possessive #Noun|@body do|does|did #Determiner|the|all|most|some', 'so that', 'enough to #Infinitive',
      'work|works .. because|when|since', 'since the|he|she|it|his|her', 'robs|cost|costs', 'no @body , no|then', 'too #Adjective to|for',
    ],
  },
  {
    class: 'F',
    when: ['@science', '^ @generic', 'ask any', '^ #Plural|#Gerund #Adverb? #PresentTense #Comparative', 'tend|tends to', 'in general', '^ #Adjective|#Comparative #Plural #PresentTense', '^ a #Adjective #Noun is|has|makes a|an|the', 'shown|proven|known|found that|to|in', '^ the #Comparative ... , the #Comparative', 'react|reacts in time', 'the|your|a body|brain|eye|muscle can|will|does|reacts|needs|cannot', 'known to', 'it is well|widely #Adjective|#PastTense', 'as any|every #Noun know|knows|will'],
    unless: ['the #Noun tend|tends'],
  },
  {
    class: 'D',
    when: [
      '@always',
      'keep|keeps|kept #Gerund|going|on', 'tend|tends|tended to', 'use|used to #Infinitive', '@person love|like to', '=loves that|his|her', 'all over his|her|their', 'in #Value ,? $', 'in #Value of',
      '#Value of|out|for|from #Determiner? #Adjective? #Value|@set|#Plural|them', '#Value out of', '#Value in #Value', '#Value times|occasions|instances|more',
      'all|most|none|few|several|many|half|neither of? the|his|her|their|these|those|them|our|my? #Value|#Adjective? @set|#Value|#Plural', 'each|every @set', 'each|every !other #Noun', 'no|neither|any @set', 'all #Value @set|of', '#Value @set , #Value', 'all of|the|these|those', 'both @set|of|exchanges|times|bouts',
      'not one|a .. @set', 'there is|are not one|a|any', 'once|twice|thrice', 'one off|time', 'another one|example|case', 'again ,? $', 'and again', 'there it|he|she is|goes again', 'same #Adjective? @body|@action|thing|story|pattern|habit ,? #Adverb|every|each|again|$',
      'that is|was what he|she|they do|does|did', 'that is his|her|their', 'go|going to that|the well', 'he|she|they do|does|did this|that|it|so .. lot|again|too|often|every|all', 'everything|everywhere|everyone|anything he|she|they', 'only time|ever', 'first|second|third|fourth time', 'how|so many', 'a lot|lots of', 'number of times', 'the rest of', 'more times', 'one more', 'count|counted|tally|rate of|frequency', 'signature', 'known for', 'famous for', 'pure|vintage|classic|peak|very #ProperNoun', 'since #Possessive .. @set|debut', '#Ordinal .. in a row', 'in a row', 'on the trot', 'running $',
    ],
  },
  {
    class: 'E',
    when: [
      '!@evaluative #Comparative', '@same', 'more|less|fewer #Adverb? #Adjective|#Noun|of|in|on|from|to|weight|#Gerund|#PastTense', 'more|less $', '^ more|less|fewer !talk|waffle|chat|on', 'most|least #Adjective|#Adverb', '!@evaluative #Superlative', 'same !line|side|direction|spot|corner|path|way|bout|fighter|film|clip|footage|moment', 'as #Adjective|#Adverb|much|far|many|long as', 'so|too much|far #Comparative', 'like the|his|her|that|in the first|second|other|last|one|left|right|clip|him|#ProperNoun', 'the only|lone', 'only he|she|they|#ProperNoun', 'match|matches|matched .. other|both|clip|first|second|one', 'match|matches ,? $', 'match|matches up', 'rather than the other', 'instead of', 'on the left .. and on the right', 'on the right .. and on the left', 'one .. the other .. not', 'a touch|bit|lot|shade|hair|fraction|way|far|much|even|slightly|noticeably #Comparative', 'no #Comparative', 'further|farther|deeper|harder|softer|faster|slower|sharper|snappier|quicker|heavier|lighter|wider|narrower|tighter|looser|bigger|smaller|higher|lower|longer|shorter|straighter|squarer|flatter|steeper|closer|nearer|stronger|weaker|cleaner|smoother|later|sooner|better|worse|greater|fewer', 'whereas', 'while the other', 'not|nor|neither ... as|so #Adjective|#Adverb', 'beat|beats .. on|for #Noun', 'copy of', 'spot the difference', 'change|changes|changed from|between|since', 'second|other one is|was #Adverb? #Comparative|not', 'unlike', 'also|too in the other', 'half the #Noun', 'of the two', 'of the #Value', 'between|across the two|three|four|clips|bouts|both', 'first|last|other clip|bout|one .. is|was|has #Adverb? not|no', 'ahead of the field', 'nobody|none .. as',
    ],
    unless: ['more or less $', '^ closer look', 'copy that'],
  },
  {
    class: 'C',
    when: [
      '@ordered', 'is|are|was|were|too|so|very|bit|fraction|come|arrive|land|move|go|frame|little|just|hair|touch|get|there|much|way late|early|later|earlier|sooner|soon', '@body|@action late|early', 'late|early ,? $', 'late|early with|to|on|by|off', '#Noun|@body|@action .. first|last|second|third ,? $', 'first|last|second ,? $', '^ first .. then', '#Noun|@body|@action , then', 'only|and then', 'then $', 'first|last thing|one|part to|that', '@body ,? and? then', 'while|whilst|as #Determiner|#Possessive|he|she|it|@body #Adjective? #Noun|@body|is|#PresentTense|#Gerund', 'when|until|till|once #Determiner|#Possessive|he|she|it|they|@body|contact|@action', 'still .. when|as|while', 'already', 'not .. until', 'lead|leads the way', 'start|starts|begin|begins|fire|fires|move|moves|go|goes|arrive|arrives|land|lands|finish|finishes .. before|first|after|last|ahead|with', 'beat|beats .. to|there|by', '#Value|@fraction|a|an|one|half|quarter|few|several|some|many|number of? a? @timeunit !@set|#Noun', 'how long', '@fraction of|a a? @timeunit', '#Noun|@body behind the|it by', 'a|one|#Value|few|couple|half frame|beat|step behind|ahead|late|early|later|earlier|before|after', 'by then', 'at|from the .. moment|instant|time|point|frame|same|start', 'next|#Ordinal to move|arrive|go|turn|fire', 'wait|waits for the', 'by #Value @timeunit', 'in .. blink|heartbeat|flash|jiffy', '@body|@action follow|follows|followed|lead|leads|led|trail|trails|lag|lags', 'follow|follows|followed ,? $', 'set off', 'catch|catches up', 'just beat|beats', 'same time', 'one beat', 'start|starts|begin|begins .. #Gerund', 'as it|he|she land|lands', 'no time|gap|delay|pause between', 'quick|quickly|fast|slow|slowly enough|to', 'take|takes|took .. @timeunit', 'mid @action', 'during', 'in the meantime', 'sooner or', 'initial|initially|finally|eventually', 'which moves|goes|comes|arrives|lands first', 'come|comes|came|get|gets|got there|home|in first|last|late|early',
    ],
  },
  {
    class: 'B',
    when: [
      '#Value #Adverb? #Adjective? @unit', '#Value .. @unit', 'a|an|one|half|quarter|couple|few|several|@fraction of? a|an? @unit', '@unit and a half', 'a|an @unit or so|two|thereabouts|maybe', '@size of|is|was|measure|measures .. #Value', '#Value @posture|by', 'right|straight|acute|obtuse angle', 'right angled', 'angle of', 'ninety', 'quarter|half|full|third turn', 'quarter|half|third of the way', '#Value or so|more|less|thereabouts|ish|plus', 'about|around|roughly|nearly|almost|approximately|some|maybe|perhaps|circa|over|under|at|to|is|was|past|near|by|reads #Cardinal $', '#Value to #Value', 'a|some #Value or #Value', 'about|around|roughly|approximately #Value', 'measure|measures|measured|reads .. at|as|#Value', 'half|twice|double|three|four times? the|his|her #Noun', 'within a|#Value .. degree|inch|centimetre|cm', 'a hair|whisker|fraction|touch off|short|over|under|past #Value|vertical|level|square|parallel|straight', 'degrees|inches|centimetres|centimeters|metres|meters', 'to the degree', 'open|turned|bent|tilted|flexed|leaning|lean|rotated by? #Value', '#Value #Adverb? open|off|wide|deep|high|long|short|apart|across', 'plus or minus', '± #Value', 'percent|percentage', 'as fast as #Value', '@size .. #Value', 'a good #Value', 'a good @unit', '#Noun|@body and a half', 'width|thickness|breadth|height|length|depth|size of a|an|the|his|her|your', 'about|around|roughly|nearly|almost|approximately .. @unit', '@unit apart|off|away|across|wide|long|deep|high',
    ],
  },
  { class: 'M', when: ['^ try|practise|practice|drill|repeat|rehearse|train|perform|do|go|start|keep|stay|use|turn|bend|begin|work|build|stand|take|set|put|hold|let|wear|stop|quit|rest|breathe|relax|ask|never|always|add|avoid|aim|make|move|step|throw|shadow|slow|give it|get a|find a|learn|warm !#Noun', 'do not #Infinitive', 'you|your .. should|must|want to|need to|can practise|ought', 'give it a go|try|whirl|shot', 'at home', 'with a partner|coach|pad|bag', 'in the gym', 'next time you', 'when you|your #Infinitive', 'in training|sparring|practice', 'a good drill', 'if you train|spar|teach|coach|are training|are coaching'] },
  { class: 'K', when: ['@earlier'] },
  { class: 'H', when: ['i|we @holding', 'i #Adverb @holding', 'i @taste', 'i #Adverb @taste', '@view', 'for|to me', 'lovely|beautiful|gorgeous|pretty|ugly|elegant|superb|sublime|masterful|wonderful|brilliant|great|fantastic'] },
  { class: 'L', when: ['i|we|you|let us @showing', 'will|shall|can|could|would see', 'is the term', 'stand for', 'welcome|hello|hi|morning|evening|thanks|thank|subscribe', '@colour .. line|dot|arrow|ring|circle|box|band|marker|@body', 'half|quarter|full|normal|real|slow|eighth speed|motion', 'frozen|mirrored|flipped', '^ so what|why|how .. happen', '@footage'] },
]

/// What takes classes back: talk about the film, an earlier film, advice, an opinion told as one.
export const guards: readonly ClassGuard[] = [
  {
    class: 'L',
    when: ['i|we #Verb', 'i|we will|have|am|are|would|need|always|just', 'let me|us', '@medium'],
    unless: ['@body&#Noun', '@action&#Noun', 'bout|fight|finish|exchange|knockout|career|record|opponent', 'he|she|they|him|his|her|their', '@generic', '@medical', '@science', '#Comparative than', 'we see it', 'spot the difference', 'it is #Noun', 'this|that|it is why'],
    not: ['C', 'D', 'E', 'G', 'I'],
  },
  { class: 'A', when: ['before|after the bell|break|count|restart'], unless: ['@body|@action .. before|after'], not: ['C'] },
  {
    class: 'L',
    when: [
      'if .. suspected', 'see a|your licensed|health|doctor|professional|medic', 'call emergency', 'do not use for', 'no|not .. habit|signature|trademark|pattern|rule', 'is|are|too few', 'say|says|tells us little|nothing', 'not resolved|stated|known', 'nothing here|in', 'should not|be .. read as|taken as|treated as', 'not medical|legal|a diagnosis', 'no|not .. diagnosis|verdict|advice', 'i|we will|shall|can|could|would|have|should|must|might|may not? #Adverb? @showing', 'i|we am|are going to @showing', 'i|we want|need|have to @showing', 'i|we am|are #Gerund .. @footage', 'first we|i will', 'let us @showing|have|get|go|take', 'let me @showing|have|get|go|take', 'i|we have not? #Adverb? cut|left|put|muted|slowed|blurred|marked|drawn|added|flipped|taken|trimmed|labelled|measured|used|chosen|picked',
      'is|are the term|word|name|phrase', 'refer|refers to', '=stands for', 'is short for', 'beside a|the value|number', 'figure|number|value|reading beside|on|under|in the|a|each', 'numbers|figures|values|readings are in', 'i mean', '=means the|a|an|that|how', '^ pause', 'better|closer look', 'longer|shorter|fuller|full version', 'reading in|are in', 'error bar|bars', 'before we|i', 'skip|jump ahead|to|past|forward', 'bear with', 'stay with me', 'stick|hang around|with|on', 'more on that|this', 'in a moment|minute|second|bit $', 'we|i will come|get|be', 'coming up', 'next up', 'one more time|look', 'once more', 'again ,? slow|slowly|from|at|please|with', 'play|run|roll|wind it|that|this', 'from the top|start|beginning|other side|another angle', 'at half|quarter|full|normal|real|slow|an|eighth|half a? speed|an|eighth', '^ =half|quarter|full|normal|real|eighth|slow speed|motion', '#Value times slower', 'slowed down|to|by', '@colour :? is|are|marks|shows|means|for', '^ @colour , @body', 'line|dot|arrow|ring|circle|band|box|label|marker|number is|are|shows|show|marks|mark|means|follows|tracks|stands', 'less talk', 'less waffle|chat', 'enough talk|chat|of me', 'long|short one|video ,? $', 'long|short video', '^ thanks', 'thanks for', 'welcome to|back', 'subscribe', 'this is the|a replay|clip|view|angle|camera|footage', 'same|the clip|footage|shot|moment|frame again|slower|from', 'sound is off', 'viewer discretion', 'some viewers',
      '^ so? ,? what|why|how|who|where|which did|does|do|is|was|happened ... $', 'what do you', 'can|could|did|do you', 'any questions', 'question', 'now for', 'right then', 'here we|it go|goes|is', 'on to', 'onto the next', 'moving on', '^ back|over to', 'this|today .. video|episode|breakdown', 'in this|today video|film|episode|breakdown|clip', 'title|thumbnail',
    ],
    unless: ['see|notice how much|far', '@body is|are late|first|ahead', 'is|was the reason', 'that|this|which means', '^ what .. first', '^ what makes', 'not even', 'not a chance', '@science say|says|show|shows', 'he|she never', 'can not $', 'does|do he|she|they see', 'always|never|every|usually', 'than', '#Value degrees'],
    not: ['B', 'C', 'D', 'E', 'F', 'G', 'I', 'J'],
  },
  { class: 'K', when: ['@earlier'], unless: ['@body .. than', 'more|less|#Comparative|wider|narrower'], not: ['C', 'D', 'E', 'I', 'F', 'G'] },
  {
    class: 'M',
    when: ['^ do it|this|that', '^ make the|sure|a|your|it', '^ take your|it', '^ get someone|somebody|a', 'first thing to learn', 'worth practising|trying|drilling', '^ try|practise|practice|drill|repeat|rehearse|train|perform|do|go|start|keep|stay|use|turn|bend|begin|work|build|stand|wear|stop|quit|rest|breathe|relax|ask|avoid|warm|never|always|add|shadow|give|learn|get|put|let|hold|take|set|step !us|me|we|back|it|on|over|up|that|by|from !#PastTense', 'do not #Infinitive', 'give it a go|try|whirl', 'nobody in range', '@speaker should|must|ought #Adverb? #Infinitive|to', '@speaker need|want|have to #Infinitive', '^ build|work|practise|practice|drill|repeat|rehearse|do|get|put|give|take it', 'minutes|reps a day|session', 'your coach|doctor|partner', '^ please', '^ think about', '^ if you .. try|train|spar|teach|practise', '^ have a go|try', 'next time you', 'with a partner|coach present|you', 'have a coach|partner|professional'],
    unless: ['^ do|does|did|is|are|was he|she|they|the|#ProperNoun|i|you', '^ does|did|is|are|was it', '^ never .. he|she', '^ always the|his|her', '^ never the|his|her', '^ start .. with the #Noun ,', '^ keep|keeps|go|turn|hold|step #Noun ,? $', '^ @body'],
    not: ['C', 'D', 'E', 'F', 'G', 'I', 'J'],
  },
  {
    class: 'H',
    when: ['i|we #Adverb? @holding', '@view', 'for|to my money|mind', 'i #Adverb? @taste', 'i would say|call|argue', 'i happen|tend|want|like to think|believe|say', 'as i see', 'a hunch', 'maybe it is|just me', 'just a guess|feeling', 'you may|might not? agree', 'seems to me', 'strike|strikes me', 'i am|was #Adverb? sure|convinced|inclined|guessing|tempted'],
    unless: ['i know|see|measured|counted|looked|checked', 'you think|know|feel|guess'],
    not: ['G', 'I'],
  },
  { class: 'H', when: ['i #Adverb? @taste', 'i have #Adverb? @taste', 'i .. give it|that|this|him|her', 'i would have|like|love', 'i #Adverb? find|call|rate|say .. @evaluative', '^ what a|an', 'not for me', 'fond of', '@evaluative thing|one|move|bit|shot|work', '@view .. @evaluative', '@evaluative .. @view', 'favourite|favorite', '@view ... a|bit|the #Adjective', 'never tire', 'i .. @evaluative'], unless: ['@body .. than', '#Value @unit|@set', '#Comparative .. in|on the first|second|other|left|right'], not: ['E', 'D', 'F', 'G', 'I'] },
  { class: 'A', when: ['out of .. picture|shot|frame|view', 'in the way', 'not|hardly|barely visible', 'can|can not #Adverb? see', 'out of view|shot|frame|picture', 'hidden|blocked|covered|obscured by|from|behind', 'in the way of the camera', 'lets|let me|us see'], unless: ['@person not|never see', '@person can not see'], not: ['B', 'C', 'G', 'I', 'E'] },
]
