//! What the program tells the shell.

use std::process::ExitCode;

/// The exit status.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ExitStatus {
    /// 0: every order may be cut, or the command did what it says.
    AllCut,
    /// 1: every sheet was reviewed, and at least one order is to be asked about or stopped.
    NotAllCut,
    /// 2: at least one input could not be used.
    Unusable,
}

impl ExitStatus {
    /// The number.
    pub fn number(self) -> u8 {
        match self {
            Self::AllCut => 0,
            Self::NotAllCut => 1,
            Self::Unusable => 2,
        }
    }
}

impl From<ExitStatus> for ExitCode {
    fn from(status: ExitStatus) -> Self {
        Self::from(status.number())
    }
}
