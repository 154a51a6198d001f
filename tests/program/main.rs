//! The program from outside: what it prints, writes, refuses and returns.

#[cfg(test)]
mod batch;
#[cfg(test)]
mod commands;
#[cfg(test)]
mod courses;
#[cfg(test)]
mod damage;
#[cfg(test)]
mod files;
#[cfg(test)]
mod hostile;
#[cfg(test)]
mod json;
#[cfg(test)]
mod mistakes;
#[cfg(test)]
mod names;
mod notation;
#[cfg(test)]
mod readme;
#[cfg(test)]
mod room;
#[cfg(test)]
mod rooms;
#[cfg(test)]
mod safety;
#[cfg(test)]
mod shells;
#[cfg(test)]
mod stopping;
#[cfg(test)]
mod support;
#[cfg(test)]
mod terminals;
#[cfg(test)]
mod tracks;
#[cfg(test)]
mod write;
