//! Passwords, kept as Argon2id (RFC 9106) with a salt from the operating system.

use argon2::password_hash::phc::PasswordHash;
use argon2::password_hash::{PasswordHasher, PasswordVerifier};
use argon2::{Algorithm, Argon2, Params, Version};

use crate::error::BookError;

/// The shortest password.
pub const SHORTEST: usize = 10;
/// The longest, in bytes; more would only keep the processor busy.
const LONGEST: usize = 1_000;

/// Memory in KiB, passes and lanes, as the OWASP Password Storage Cheat Sheet gives them for Argon2id: 19 MiB, two passes, one lane.
/// More would let a few people who sign in at once fill a small machine.
const MEMORY: u32 = 19 * 1024;
const PASSES: u32 = 2;
const LANES: u32 = 1;

fn hasher() -> Result<Argon2<'static>, BookError> {
    let params = Params::new(MEMORY, PASSES, LANES, None)
        .map_err(|error| BookError::Unexpected { problem: format!("the settings of Argon2: {error}") })?;
    Ok(Argon2::new(Algorithm::Argon2id, Version::V0x13, params))
}

/// What is kept of a password.
///
/// # Errors
///
/// The password is too short or too long, or the operating system gives no random bytes.
pub(crate) fn secret_of(password: &str) -> Result<String, BookError> {
    if password.chars().count() < SHORTEST || password.len() > LONGEST {
        return Err(BookError::refused(
            format!("the password has {} characters", password.chars().count()),
            format!("at least {SHORTEST} characters; a few words in a row are easy to keep in mind"),
        ));
    }
    hasher()?
        .hash_password(password.as_bytes())
        .map(|hash| hash.to_string())
        .map_err(|error| BookError::Unexpected { problem: format!("no password can be kept: {error}") })
}

/// Whether a password is the one that a secret was made of. The secret carries its own settings.
pub(crate) fn fits(password: &str, secret: &str) -> bool {
    password.len() <= LONGEST
        && PasswordHash::new(secret)
            .is_ok_and(|hash| Argon2::default().verify_password(password.as_bytes(), &hash).is_ok())
}

/// A secret that no password fits, to be tried where there is no account, so that the time to answer does not tell which names
/// there are.
pub(crate) const NOBODY: &str =
    "$argon2id$v=19$m=19456,t=2,p=1$AAAAAAAAAAAAAAAAAAAAAA$AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA";

#[cfg(test)]
mod tests {
    use super::{NOBODY, fits, secret_of};

    #[test]
    fn a_password_fits_its_own_secret_only() {
        let secret = secret_of("weir yard at dawn").unwrap();
        assert!(secret.starts_with("$argon2id$v=19$m=19456,t=2,p=1$"), "{secret}");
        assert!(fits("weir yard at dawn", &secret));
        assert!(!fits("weir yard at dusk", &secret));
        assert!(!fits("", NOBODY));
        assert_ne!(secret, secret_of("weir yard at dawn").unwrap());
        assert!(secret_of("short").unwrap_err().to_string().contains("accepted: at least 10 characters"));
    }

    #[test]
    fn the_secret_of_nobody_is_sound_so_that_it_takes_as_long() {
        assert!(argon2::password_hash::phc::PasswordHash::new(NOBODY).is_ok());
    }
}
