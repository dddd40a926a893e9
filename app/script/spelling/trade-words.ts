/// Words of anatomy, movement and combat sport that general word lists lack, in lower case. Bones, joints and muscles in
/// the forms of *Terminologia Anatomica* (FIPAT, 2nd edition 2019) and its English, motions as goniometry names them; names
/// of techniques as the trade says them (common practice, no source). Written from memory, not copied from a list.
export const TRADE_WORDS: readonly string[] = `
  abdominis acetabular acetabulum acromial acromioclavicular acromion adduct adducted adducting adduction
  adductor adductors adducts anconeus anteriorly anteroposterior antetorsion anteversion armbar armbars armlock
  atlantoaxial atlantooccipital atomweight backfist backfists biomechanical biomechanically biomechanics
  biomechanist brachialis brachioradialis cageside calcaneal calcaneus capitate circumduction clavicular
  condylar condyle condyles contralateral contralaterally coracobrachialis coracoid cornerman cornermen costal
  costovertebral countermovement countermovements counterpunch counterpunched counterpuncher counterpunches
  counterpunching counterrotate counterrotates counterrotating counterrotation craniocaudal cruciate
  cruiserweight cuneiforms deinterlace deinterlaced deltoid deltoids derotation digitorum dorsi dorsiflex
  dorsiflexed dorsiflexes dorsiflexing dorsiflexion dorsiflexor dorsiflexors electromyography enthesis
  epicondylar epicondyle epicondyles eversion evert everted everts extensor extensors fasciae femora femoris
  femoroacetabular fibularis flexor flexors footlock footlocks framerate gari gastrocnemius gi gluteal gluteals
  glutes gluteus goniometer goniometric goniometry gonion gracilis grappler grapplers gumshield hallucis hallux
  hamate handwraps hyperextend hyperextended hyperextends hyperextension hyperflexion iliac iliacus
  iliocostalis iliopsoas iliotibial inferiorly infraspinatus intermedius interphalangeal intersegmental
  intervertebral ipsilateral ipsilaterally ischial ischium isokinetic jitsu jiujitsu judoka judokas keyframe
  kickboxer kickboxers kimura kinematically kinesiologist kinesiologists kinesiology kneebar kneebars kyphosis
  kyphotic labral labrum latae lateralis latissimus longissimus lordosis lordotic lumbopelvic lumborum
  lumbosacral lunate malleolar malleoli malleolus masseter mata maximus medialis mediolateral medius meniscal
  menton metacarpophalangeal metatarsophalangeal minimus mouthguard muay multifidus multisegment myofascial
  nage nasion navicular neuromuscular nogi occipital occiput olecranon orbitale osoto overhook overhooks
  overrotate overrotated overrotates overrotation palmar patellar patellofemoral peroneal peroneus
  photogrammetric photogrammetry piriformis pisiform plantarflex plantarflexed plantarflexes plantarflexing
  plantarflexion plantarflexor plantarflexors plantaris platysma plyometric plyometrics pollicis popliteus
  posteriorly posturography preload preloaded preloading pronate pronated pronation pronator proprioception
  proprioceptive proximally psoas quadratus radiale radiocarpal radioulnar rectus recurvatum retroversion
  sacral sagittal sartorius scalenes scaphoid scapulohumeral scapulothoracic semimembranosus semitendinosus
  seoi serratus soleus spinae splenius sternal sternoclavicular sternocleidomastoid strawweight styloid
  subconcussive subluxation subluxed subscapularis subtalar superiorly supinate supinated supination supinator
  supraspinatus symphysis takedown takedowns talar talocrural tarsometatarsal teep teeps temporalis
  temporomandibular tendinopathies tendinopathy teres thoracolumbar tibialis tibiofemoral tragion tragus
  transversus trapezius triquetrum trochanter trochanteric trochanters trochlea uchi ulnocarpal underhook
  underhooking underhooks underrotated unweight unweighting unweights valgus varus vastus videographer volar
  whizzer whizzers wristbone xiphoid zygomatic
`
  .trim()
  .split(/\s+/u)
