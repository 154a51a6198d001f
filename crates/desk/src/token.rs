//! The token that whoever asks anything of the user must know: made anew at
//! each start, and only in the address that is opened.

use crate::DeskError;

/// 128 random bits, written in hexadecimal.
#[derive(Clone)]
pub(crate) struct Token(String);

impl Token {
    pub(crate) fn new() -> Result<Token, DeskError> {
        let mut bytes = [0; 16];
        getrandom::fill(&mut bytes).map_err(|error| DeskError::Random(error.to_string()))?;
        Ok(Token(
            bytes.iter().map(|byte| format!("{byte:02x}")).collect(),
        ))
    }

    pub(crate) fn as_str(&self) -> &str {
        &self.0
    }

    /// Whether it is this one, in a time that doesn't tell how much of it is.
    pub(crate) fn is(&self, said: &[u8]) -> bool {
        let own = self.0.as_bytes();
        let differs = own.iter().zip(said).fold(0, |all, (a, b)| all | (a ^ b));
        said.len() == own.len() && differs == 0
    }
}

/// Never in a log.
impl std::fmt::Debug for Token {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Token")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_the_token_itself_will_do() {
        let token = Token::new().unwrap();
        let said = token.as_str().to_owned();
        assert_eq!(said.len(), 32);
        assert!(token.is(said.as_bytes()));
        assert!(!token.is(&said.as_bytes()[..31]));
        assert!(!token.is(b""));
        assert!(!token.is(&[said.as_bytes(), b"0"].concat()));
        assert_ne!(Token::new().unwrap().as_str(), said);
        assert!(!format!("{token:?}").contains(&said));
    }
}
