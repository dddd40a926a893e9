"""Makes the narration of this folder again: python3 make.py. Needs libespeak-ng (Debian: libespeak-ng1) and ffmpeg.
Word times are the synthesiser's own word events (sample numbers)."""
import ctypes, json, os, subprocess, wave

L = ctypes.CDLL('libespeak-ng.so.1')


class Event(ctypes.Structure):
    _fields_ = [('type', ctypes.c_int), ('uid', ctypes.c_uint), ('at', ctypes.c_int), ('length', ctypes.c_int), ('audio', ctypes.c_int), ('sample', ctypes.c_int), ('user', ctypes.c_void_p), ('id', ctypes.c_void_p)]


RATE = L.espeak_Initialize(2, 0, None, 0)
pieces, events = [], []


@ctypes.CFUNCTYPE(ctypes.c_int, ctypes.POINTER(ctypes.c_short), ctypes.c_int, ctypes.POINTER(Event))
def hear(samples, count, told):
    if count > 0:
        pieces.append(ctypes.string_at(samples, count * 2))
    i = 0
    while told[i].type != 0:
        if told[i].type == 1:
            events.append((told[i].at, told[i].length, told[i].sample))
        i += 1
    return 0


L.espeak_SetSynthCallback(hear)
TEXT = ('He plants, and the pelvis turns sixty seven milliseconds before the shoulders do. At contact the rear knee is bent to about one hundred and forty degrees. '
        'The scapula protracts as the acromion travels forward. From the second camera nothing can be said about the spine. That is the part worth slowing down.')
SENTENCES = [s.strip() + '.' for s in TEXT.split('.') if s.strip()]
TWICE = ' '.join(SENTENCES[:2] + SENTENCES[1:])
LEFT_OUT = TEXT.replace('the rear knee', 'the knee')


def say(name, text, voice, wpm):
    pieces.clear()
    events.clear()
    L.espeak_SetVoiceByName(voice.encode())
    L.espeak_SetParameter(1, wpm, 0)
    spoken = text.encode()
    L.espeak_Synth(spoken, len(spoken) + 1, 0, 1, 0, 1, None, None)
    L.espeak_Synchronize()
    with wave.open('said.wav', 'wb') as out:
        out.setnchannels(1)
        out.setsampwidth(2)
        out.setframerate(RATE)
        out.writeframes(b''.join(pieces))
    subprocess.run(['ffmpeg', '-v', 'error', '-y', '-i', 'said.wav', '-ar', '16000', '-compression_level', '12', name + '.flac'], check=True)
    os.remove('said.wav')
    # Not every word has an event: the synthesiser reads some pairs ("of the") as one.
    words = [[at - 1, round(sample / RATE, 4)] for at, _, sample in events]
    return {'file': name + '.flac', 'voice': voice, 'wordsAMinute': wpm, 'text': text, 'onsets': words}


made = [say(f'{voice[3:].replace("+", "-") or "gb"}-{wpm}', TEXT, voice, wpm) for voice in ('en-us', 'en-gb+f3') for wpm in (120, 160)]
made.append(say('twice', TWICE, 'en-us', 160))
made.append(say('left-out', LEFT_OUT, 'en-gb+f3', 160))
json.dump({'script': TEXT, 'takes': made}, open('narration.json', 'w'), separators=(',', ':'))
