//! The microphone, by `cpal`: one library for ALSA, `CoreAudio`, WASAPI and `AAudio`.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, RecvTimeoutError, SyncSender, sync_channel};
use std::time::Duration;

use cpal::traits::{DeviceTrait, HostTrait, StreamTrait};
use cpal::{ErrorKind, FromSample, SampleFormat, SizedSample, StreamConfig};

use super::{CaptureError, End, Piece, Source, To16k};

/// Pieces that wait to be asked for; a piece is some 10 ms, so this is seconds.
const WAITING: usize = 512;
/// How long to wait for a piece.
const PATIENCE: Duration = Duration::from_millis(100);
/// A live microphone gives pieces all the time. One that has given none for so long is gone, even
/// where the system does not say so.
const GONE_AFTER: u32 = 30;

/// What comes out of the system's sound thread.
enum Message {
    Sound(Vec<f32>),
    Failed(CaptureError),
}

/// The system's default microphone, listening.
pub struct Microphone {
    // Listens as long as it lives.
    _stream: cpal::Stream,
    messages: Receiver<Message>,
    lost: Arc<AtomicBool>,
    to_16k: To16k,
    silent_for: u32,
    ended: Option<CaptureError>,
}

impl Microphone {
    /// Opens the default microphone and begins to listen. On a phone the app must have asked for
    /// the permission before.
    ///
    /// # Errors
    /// [`CaptureError`]: missing, denied, busy, or in a form that cannot be read.
    pub fn open() -> Result<Self, CaptureError> {
        let device = cpal::default_host().default_input_device().ok_or(CaptureError::Missing)?;
        let supported = device.default_input_config().map_err(|e| at_opening(&e))?;
        let format = supported.sample_format();
        let config = supported.config();
        let to_16k = To16k::from(config.sample_rate)?;
        let (sender, messages) = sync_channel(WAITING);
        let lost = Arc::new(AtomicBool::new(false));
        let stream = match format {
            SampleFormat::F32 => listen::<f32>(&device, config, sender, &lost),
            SampleFormat::I16 => listen::<i16>(&device, config, sender, &lost),
            SampleFormat::U16 => listen::<u16>(&device, config, sender, &lost),
            SampleFormat::I32 => listen::<i32>(&device, config, sender, &lost),
            SampleFormat::U8 => listen::<u8>(&device, config, sender, &lost),
            other => return Err(CaptureError::Unsupported { given: other.to_string() }),
        }?;
        stream.play().map_err(|e| at_opening(&e))?;
        Ok(Self { _stream: stream, messages, lost, to_16k, silent_for: 0, ended: None })
    }

    fn fail(&mut self, error: CaptureError) -> Piece {
        self.ended = Some(error.clone());
        Piece::Ended(End::Failed(error))
    }
}

fn listen<T>(
    device: &cpal::Device,
    config: StreamConfig,
    sender: SyncSender<Message>,
    lost: &Arc<AtomicBool>,
) -> Result<cpal::Stream, CaptureError>
where
    T: SizedSample,
    f32: FromSample<T>,
{
    let channels = usize::from(config.channels).max(1);
    let (failures, lost) = (sender.clone(), Arc::clone(lost));
    let on_sound = move |data: &[T], _: &cpal::InputCallbackInfo| {
        // The sound thread must not wait: what finds no room is lost, and that is said.
        if sender.try_send(Message::Sound(mixed_down(data, channels))).is_err() {
            lost.store(true, Ordering::Relaxed);
        }
    };
    let on_failure = move |error: cpal::Error| {
        if let Some(error) = while_listening(&error) {
            // Full or not: a source that gives nothing more is noticed by its silence.
            let _ = failures.try_send(Message::Failed(error));
        }
    };
    device.build_input_stream(config, on_sound, on_failure, None).map_err(|e| at_opening(&e))
}

/// One channel: the mean of all.
fn mixed_down<T>(data: &[T], channels: usize) -> Vec<f32>
where
    T: SizedSample,
    f32: FromSample<T>,
{
    data.chunks_exact(channels)
        .map(|frame| {
            let sum: f32 = frame.iter().map(|&sample| f32::from_sample_(sample)).sum();
            sum / channels as f32
        })
        .collect()
}

fn at_opening(error: &cpal::Error) -> CaptureError {
    match error.kind() {
        ErrorKind::DeviceNotAvailable | ErrorKind::HostUnavailable => CaptureError::Missing,
        ErrorKind::PermissionDenied => CaptureError::Denied,
        ErrorKind::DeviceBusy => CaptureError::Busy,
        ErrorKind::UnsupportedConfig => CaptureError::Unsupported { given: error.to_string() },
        _ => CaptureError::System(error.to_string()),
    }
}

/// `None` for what does not end the listening.
fn while_listening(error: &cpal::Error) -> Option<CaptureError> {
    match error.kind() {
        ErrorKind::Xrun | ErrorKind::RealtimeDenied | ErrorKind::DeviceChanged => None,
        ErrorKind::DeviceNotAvailable | ErrorKind::StreamInvalidated => {
            Some(CaptureError::Unplugged)
        }
        _ => Some(at_opening(error)),
    }
}

impl Source for Microphone {
    fn next_piece(&mut self) -> Piece {
        if let Some(error) = &self.ended {
            return Piece::Ended(End::Failed(error.clone()));
        }
        if self.lost.swap(false, Ordering::Relaxed) {
            return Piece::Lost;
        }
        match self.messages.recv_timeout(PATIENCE) {
            Ok(Message::Sound(samples)) => {
                self.silent_for = 0;
                match self.to_16k.push(&samples) {
                    Ok(ready) if ready.is_empty() => Piece::Nothing,
                    Ok(ready) => Piece::Sound(ready),
                    Err(error) => self.fail(error),
                }
            }
            Ok(Message::Failed(error)) => self.fail(error),
            Err(RecvTimeoutError::Timeout) => {
                self.silent_for += 1;
                if self.silent_for >= GONE_AFTER {
                    return self.fail(CaptureError::Unplugged);
                }
                Piece::Nothing
            }
            Err(RecvTimeoutError::Disconnected) => self.fail(CaptureError::Unplugged),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_channels_become_their_mean() {
        assert_eq!(mixed_down(&[0.5_f32, -0.5, 1.0, 0.0], 2), [0.0, 0.5]);
        let half = mixed_down(&[i16::MAX, i16::MAX], 2)[0];
        assert!((half - 1.0).abs() < 1e-4, "{half}");
    }

    #[test]
    fn what_the_system_says_becomes_a_clear_state() {
        let rows = [
            (ErrorKind::DeviceNotAvailable, CaptureError::Missing, Some(CaptureError::Unplugged)),
            (ErrorKind::HostUnavailable, CaptureError::Missing, Some(CaptureError::Missing)),
            (ErrorKind::PermissionDenied, CaptureError::Denied, Some(CaptureError::Denied)),
            (ErrorKind::DeviceBusy, CaptureError::Busy, Some(CaptureError::Busy)),
        ];
        for (kind, opening, listening) in rows {
            let error = cpal::Error::from(kind);
            assert_eq!(at_opening(&error), opening);
            assert_eq!(while_listening(&error), listening);
        }
        assert_eq!(while_listening(&cpal::Error::from(ErrorKind::Xrun)), None);
    }

    /// On a machine with a microphone it opens; on one without, the state is clear. Either way
    /// nothing panics and nothing hangs.
    #[test]
    fn opening_gives_a_microphone_or_a_clear_state() {
        match Microphone::open() {
            Ok(mut microphone) => {
                assert!(!matches!(microphone.next_piece(), Piece::Ended(End::Finished)));
            }
            Err(error) => assert!(!error.hint().is_empty()),
        }
    }
}
